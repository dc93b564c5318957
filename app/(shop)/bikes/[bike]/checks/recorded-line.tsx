import type { PhotoMark } from '../../../../../lib/shop/photo-marks'
import type { CheckShown } from '../../../../../lib/shop/read-sheet'
import { VerdictMark } from '../../../../_ui/marks'
import type { SeenCheck, SeenReading } from './as-seen-here'
import { readingWords, saysBeside } from './reading-words'

/** What was recorded last and whether it was taken back since. */
export type LastRecorded = { row: SeenCheck; takenBack: boolean } & (
  | { reading: SeenReading }
  /** A photo, by its id. */
  | { photo: string }
  /** What was drawn on a photo, by its id, and what was there before. */
  | { drawnOn: string; before: readonly PhotoMark[] }
)

/**
 * What was recorded last and what it came to, told aloud to readers; it can be taken back until the next is
 * recorded, without any haste. It leads back to its check.
 */
export function RecordedLine({
  last,
  current,
  onOpen,
  onUndo,
}: {
  last: LastRecorded | null
  current: string | null
  onOpen: (check: CheckShown) => void
  onUndo: () => void
}) {
  return (
    <div
      className={
        last
          ? 'recorded-line flex items-center justify-between gap-x-3 border-2 border-l-8 border-accent bg-wash py-1 pl-3 pr-1'
          : undefined
      }
    >
      <p role="status" className={last ? 'min-w-0 leading-snug' : 'sr-only'}>
        {last && !last.takenBack && (
          <>
            Recorded: <strong>{last.row.check.title}</strong>
            {!('reading' in last) ? (
              `, ${wordsOf(last)}`
            ) : (
              <>
                {' '}
                <VerdictMark verdict={last.row.judgement.verdict} />{' '}
                <span className="sr-only">{saysBeside(last.row.judgement)}</span>
              </>
            )}
          </>
        )}
        {last?.takenBack && (
          <>
            Taken back: <strong>{last.row.check.title}</strong>, {wordsOf(last)}
          </>
        )}
      </p>
      {last && (
        <span className="flex shrink-0 gap-2">
          {/* On a phone there is no room for it; what was answered stands in the list below. */}
          {last.row.check.key !== current && (
            <button type="button" className="btn-quiet max-sm:hidden" onClick={() => onOpen(last.row.check)}>
              Look again
            </button>
          )}
          {!last.takenBack && (
            <button type="button" className="btn-quiet" onClick={onUndo}>
              Undo
              <span className="sr-only">
                : {last.row.check.title}, {wordsOf(last)}
              </span>
            </button>
          )}
        </span>
      )}
    </div>
  )
}

function wordsOf(last: LastRecorded): string {
  if ('drawnOn' in last) return 'a drawing on a photo'
  return 'photo' in last ? 'a photo' : readingWords(last.row.check, last.reading)
}
