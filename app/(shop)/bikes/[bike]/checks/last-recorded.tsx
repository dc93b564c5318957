import type { CheckShown } from '../../../../../lib/shop/read-sheet'
import { VerdictMark } from '../../../../_ui/marks'
import type { SeenCheck } from './as-seen-here'

/** What was recorded last and what it came to, told aloud to readers; it leads back where it is another check. */
export function LastRecorded({
  row,
  current,
  onOpen,
}: {
  row: SeenCheck | null
  current: string | null
  onOpen: (check: CheckShown) => void
}) {
  const elsewhere = row !== null && row.check.key !== current
  return (
    <div
      className={
        elsewhere
          ? 'flex flex-wrap items-center gap-x-3 gap-y-1 border-l-8 border-accent bg-wash px-3 py-1'
          : undefined
      }
    >
      <div role="status" className={elsewhere ? 'min-w-0 grow' : 'sr-only'}>
        {row && (
          <>
            Recorded: <strong>{row.check.title}</strong> <VerdictMark verdict={row.judgement.verdict} />{' '}
            {row.judgement.says}
          </>
        )}
      </div>
      {elsewhere && (
        <button type="button" className="btn-quiet" onClick={() => onOpen(row.check)}>
          Look again
        </button>
      )}
    </div>
  )
}
