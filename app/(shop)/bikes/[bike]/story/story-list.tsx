import type { Story } from '../../../../../lib/shop/read-story'
import { formatInstant, formatMoney } from '../../../../_ui/formats'
import { kindWords } from './story-kinds'

/** One entry a line: what happened, then when, by whom and at which device. */
export function StoryList({ story: { entries, zone, currency } }: { story: Story }) {
  return (
    <ol className="flex flex-col">
      {entries.map(({ seq, kind, says, at, takenAt, who, device, amounts = [] }) => (
        <li key={seq} className="border-b border-rule py-2 last:border-0 print:break-inside-avoid">
          <p className="wrap-anywhere">{says}</p>
          {currency !== null && amounts.length > 0 && (
            <p>{amounts.map(({ label, minor }) => `${label} ${formatMoney(minor, currency)}`).join(', ')}</p>
          )}
          <p className="text-sm">
            <time dateTime={at}>{formatInstant(at, zone)}</time>, {who}
            {device === null ? '' : `, ${device}`}. {kindWords[kind]}, entry {seq}.
            {takenAt !== null && ` Taken ${formatInstant(takenAt, zone)}.`}
          </p>
        </li>
      ))}
    </ol>
  )
}
