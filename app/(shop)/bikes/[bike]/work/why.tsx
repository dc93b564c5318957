import Link from 'next/link'
import type { ReadingShown, WhyShown } from '../../../../../lib/shop/read-work'
import { formatInstant, formatUnit } from '../../../../_ui/formats'
import { VerdictMark } from '../../../../_ui/marks'
import { Source } from '../../../../_ui/notes'

/** What a fault rests on: each check with its readings as taken, its limit, and where that comes from. */
export function Why({ why, viewingNo, zone }: { why: readonly WhyShown[]; viewingNo: number; zone: string }) {
  return (
    <ul className="flex flex-col gap-4">
      {why.map(({ check, title, round, verdict, says, readings, limits, sources }) => (
        <li key={check} className="flex flex-col items-start gap-1">
          <p className="flex flex-wrap items-center gap-x-3 gap-y-1">
            <Link
              href={`/bikes/${viewingNo}/checks?round=${round}&check=${check}`}
              className="tap font-semibold"
            >
              {title}
            </Link>
            <VerdictMark verdict={verdict} />
          </p>
          {!isSaidByReading(says, readings) && <p>{says}</p>}
          <ul className="flex flex-col">
            {readings.map((reading) => (
              <li key={reading.id}>
                <strong>{valueWords(reading)}</strong>
                {reading.position && ` · ${reading.position}`}
                <span className="block text-soft">
                  {[reading.who, formatInstant(reading.takenAt, zone), reading.instrument, reading.note]
                    .filter(Boolean)
                    .join(' · ')}
                </span>
              </li>
            ))}
          </ul>
          {limits.map(({ at, words, saleWords }) => (
            <p key={at.join()}>
              <strong>Limit{at.length > 0 && ` (${at.join(', ')})`}:</strong>{' '}
              {words ?? 'set by model, and nobody has entered it'}.
              {saleWords && (
                <>
                  {' '}
                  <strong>Sale line:</strong> {saleWords}.
                </>
              )}
            </p>
          ))}
          {sources.map(({ kind, says: from }) => (
            <Source key={from} kind={kind} says={from} />
          ))}
        </li>
      ))}
    </ul>
  )
}

/** An answer's own words are the whole verdict on it: said once is enough. */
function isSaidByReading(says: string, readings: readonly ReadingShown[]): boolean {
  return readings.some(({ value }) => says === `${value}.`)
}

function valueWords({ value, unit }: ReadingShown): string {
  return unit === null ? value : `${value}\u00a0${formatUnit(unit)}`
}
