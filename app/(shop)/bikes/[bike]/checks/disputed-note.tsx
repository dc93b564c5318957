import { standing } from '../../../../../lib/core/checks/reading'
import { formatInstant } from '../../../../_ui/formats'
import { Notice } from '../../../../_ui/notes'
import type { SeenCheck } from './as-seen-here'
import { readingWords } from './reading-words'

/** Two answers of two devices that knew nothing of one another: which of them is right, only a look can tell. */
export function DisputedNote({ row, zone }: { row: SeenCheck; zone: string }) {
  const { disputed, readings, check } = row
  if (!disputed) return null
  const standIds = new Set(standing(readings).map(({ id }) => id))
  const counting = readings.filter(({ id }) => standIds.has(id))
  const counts = counting.find(({ id }) => id === disputed.counts)
  const other = counting.find(({ id }) => id === disputed.other)
  // Settled here already, and on its way.
  if (!counts || !other || counting.some(({ onItsWay }) => onItsWay)) return null
  return (
    <Notice title="Answered differently on two devices: which is it?">
      <ul className="flex flex-col">
        {[counts, other].map((reading) => (
          <li key={reading.id}>
            {reading.who}: <strong>{readingWords(check, reading)}</strong>,{' '}
            {formatInstant(reading.takenAt, zone)}
            {reading === counts && ' (counts for now)'}
          </li>
        ))}
      </ul>
      <p>Neither had seen the other. Look again and record it, or correct the one that is wrong.</p>
    </Notice>
  )
}
