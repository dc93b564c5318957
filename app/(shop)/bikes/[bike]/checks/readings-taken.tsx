import { standing } from '../../../../../lib/core/checks/reading'
import { formatInstant } from '../../../../_ui/formats'
import type { SeenCheck, SeenReading } from './as-seen-here'
import { readingWords } from './reading-words'
import { conditionSaid } from './round-words'

/** Every reading as it was taken. One that was corrected stays, struck out, beside the one in its place. */
export function ReadingsTaken({
  row,
  zone,
  onCorrect,
}: {
  row: SeenCheck
  zone: string
  onCorrect: (reading: SeenReading) => void
}) {
  const counting = new Set(standing(row.readings).map(({ id }) => id))
  return (
    <section aria-label="Readings taken" className="border-t border-rule pt-2">
      <h3>Taken so far</h3>
      <ul className="flex flex-col">
        {row.readings.map((reading) => (
          <li
            key={reading.id}
            className="flex items-center justify-between gap-x-3 border-b border-rule py-1"
          >
            <span className="min-w-0">
              {counting.has(reading.id) ? (
                <strong>{readingWords(row.check, reading)}</strong>
              ) : (
                <>
                  <s>{readingWords(row.check, reading)}</s> corrected
                </>
              )}
              {reading.position && ` · ${positionLabel(row, reading.position)}`}
              <span className="block text-soft">{detailsOf(reading, zone)}</span>
            </span>
            {counting.has(reading.id) && (
              <button type="button" className="btn-quiet shrink-0" onClick={() => onCorrect(reading)}>
                Correct<span className="sr-only"> {readingWords(row.check, reading)}</span>
              </button>
            )}
          </li>
        ))}
      </ul>
    </section>
  )
}

function positionLabel({ check }: SeenCheck, position: string): string {
  const known = check.sort === 'measured' ? check.positions.find(({ key }) => key === position) : undefined
  return known?.label ?? position
}

export function detailsOf(reading: SeenReading, zone: string): string {
  const { who, takenAt, instrument, conditions, note, onItsWay } = reading
  return [
    who,
    formatInstant(takenAt, zone),
    instrument?.name,
    ...conditions.map((condition) => conditionSaid[condition].toLowerCase()),
    note,
    onItsWay ? 'on its way' : null,
  ]
    .filter(Boolean)
    .join(' · ')
}
