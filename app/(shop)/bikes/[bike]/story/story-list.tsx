import type { Story } from '../../../../../lib/shop/read-story'
import { formatDayOf, formatInstant, formatMoney, formatTime } from '../../../../_ui/formats'
import { kindWords } from './story-kinds'

/** Day by day, one entry a line: when, what happened, and by whom and at which device. */
export function StoryList({ story }: { story: Story }) {
  return (
    <div className="flex flex-col gap-5">
      {daysOf(story).map(({ day, entries }) => (
        <div key={`${day} ${entries[0]?.seq}`}>
          <h3 className="border-b border-ink pb-1">{day}</h3>
          <ol className="flex flex-col">
            {entries.map((entry) => (
              <Entry key={entry.seq} entry={entry} story={story} />
            ))}
          </ol>
        </div>
      ))}
    </div>
  )
}

function Entry({ entry, story: { zone, currency } }: { entry: Story['entries'][number]; story: Story }) {
  const { seq, kind, says, at, takenAt, who, device, amounts = [] } = entry
  return (
    <li className="grid grid-cols-[3.5rem_minmax(0,1fr)] gap-x-2 border-b border-rule py-2 last:border-0">
      <time dateTime={at} className="text-soft">
        {formatTime(at, zone)}
      </time>
      <div className="wrap-anywhere">
        <p>{says}</p>
        {currency !== null && amounts.length > 0 && (
          <p>{amounts.map(({ label, minor }) => `${label} ${formatMoney(minor, currency)}`).join(', ')}</p>
        )}
        <p className="text-sm text-soft">
          {who}
          {device === null ? '' : `, ${device}`}. {kindWords[kind]}, entry {seq}.
          {takenAt !== null && ` Taken ${formatInstant(takenAt, zone)}.`}
        </p>
      </div>
    </li>
  )
}

type Day = { day: string; entries: Story['entries'][number][] }

/** Entries that follow one another on a day stand together; their order stays as it is. */
function daysOf({ entries, zone }: Story): Day[] {
  const days: Day[] = []
  for (const entry of entries) {
    const day = formatDayOf(entry.at, zone)
    const last = days.at(-1)
    if (last?.day === day) last.entries.push(entry)
    else days.push({ day, entries: [entry] })
  }
  return days
}
