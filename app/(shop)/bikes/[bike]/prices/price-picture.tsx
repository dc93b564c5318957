import type { PricesNoted } from '../../../../../lib/shop/read-comparables'
import { formatEstimate, formatMoney, formatShare } from '../../../../_ui/formats'
import { type Across, acrossOf, anchorAt, roundValues } from '../../../../_ui/shapes'
import { notedWords, weightWords } from './price-words'

type Reckoned = NonNullable<PricesNoted['reckoned']>
type Note = PricesNoted['notes'][number]

const rowHeight = 22
const barTop = 14

/**
 * The noted prices as dots where this bike would sell by each, larger where it counts more; under them what eight of
 * ten sales are expected between. What was pushed outwards because little is noted is hatched.
 */
export function PricePicture({
  reckoned,
  notes,
  currency,
}: {
  reckoned: Reckoned
  notes: readonly Note[]
  currency: string
}) {
  const { quantiles, levels } = reckoned
  const counting = notes.filter(({ weight }) => weight > 0)
  const at = acrossOf([levels.low, levels.high, ...counting.map(({ value }) => value)], 0.06)
  const { dots, rows } = placed(counting, at)
  const bar = rows * rowHeight + barTop
  const marks = [
    { name: 'one in ten sells below', value: levels.low },
    { name: 'middle', value: quantiles.middle },
    { name: 'one in ten sells above', value: levels.high },
  ]
  return (
    <figure className="flex flex-col gap-3">
      <figcaption className="sr-only">
        {`Sale price: middle ${formatEstimate(quantiles.middle, currency)}; eight times in ten between ${formatEstimate(levels.low, currency)} and ${formatEstimate(levels.high, currency)}.`}
      </figcaption>
      <svg aria-hidden="true" width="100%" height={bar + 44} className="block text-accent">
        {roundValues(at.domain, 4).map((value) => (
          <g key={value} className="text-soft">
            <line
              x1={`${at(value)}%`}
              x2={`${at(value)}%`}
              y1="0"
              y2={bar + 22}
              stroke="currentColor"
              strokeWidth="1"
              strokeOpacity="0.35"
            />
            <text
              x={`${at(value)}%`}
              y={bar + 40}
              textAnchor={anchorAt(at(value))}
              fill="currentColor"
              fontSize="13"
            >
              {formatMoney(value, currency)}
            </text>
          </g>
        ))}
        {dots.map(({ note, row }) => (
          <circle
            key={note.id}
            cx={`${at(note.value)}%`}
            cy={(rows - row - 0.5) * rowHeight}
            r={radiusOf(note.weight)}
            fill={note.weight >= 0.3 ? 'currentColor' : 'none'}
            fillOpacity="0.8"
            stroke="currentColor"
            strokeWidth="2"
          />
        ))}
        <Pushed from={at(levels.low)} to={at(quantiles.low)} y={bar} />
        <rect
          x={`${at(quantiles.low)}%`}
          y={bar}
          width={`${Math.max(0.3, at(quantiles.high) - at(quantiles.low))}%`}
          height="14"
          fill="currentColor"
        />
        <Pushed from={at(quantiles.high)} to={at(levels.high)} y={bar} />
        {marks.map(({ name, value }) => (
          <line
            key={name}
            x1={`${at(value)}%`}
            x2={`${at(value)}%`}
            y1={bar - 6}
            y2={bar + 20}
            className="text-ink"
            stroke="currentColor"
            strokeWidth="3"
          />
        ))}
      </svg>
      <dl className="grid grid-cols-3 gap-x-2 text-center">
        {marks.map(({ name, value }) => (
          <div key={name} className="flex flex-col justify-between first:text-left last:text-right">
            <dt className="text-sm text-soft">{name}</dt>
            <dd className={name === 'middle' ? 'text-lg font-semibold' : ''}>
              {formatEstimate(value, currency)}
            </dd>
          </div>
        ))}
      </dl>
      <p className="text-sm text-soft">
        Each dot is a noted price, put where this bike would sell by it: large and full where it counts much,
        small and empty where it counts little. The bar holds eight of ten sales
        {reckoned.widenedBy > 0 ? '; its hatched ends were added because little is noted.' : '.'}
      </p>
      {/* Around the table, since a table takes the width of its words whatever it is told. */}
      <div className="sr-only">
        <table>
          <caption>What each noted price says of this bike</caption>
          <thead>
            <tr>
              <th scope="col">Noted</th>
              <th scope="col">This bike by it</th>
              <th scope="col">Weight</th>
              <th scope="col">Of all weight</th>
            </tr>
          </thead>
          <tbody>
            {notes.map((note) => (
              <tr key={note.id}>
                <th scope="row">{`${formatMoney(note.priceMinor, currency)}, ${notedWords(note)}`}</th>
                <td>{formatEstimate(note.value, currency)}</td>
                <td>{weightWords(note.weight)}</td>
                <td>{formatShare(note.share)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </figure>
  )
}

/** The area grows with the weight; the smallest can still be seen. */
function radiusOf(weight: number): number {
  return 3 + 6 * Math.sqrt(Math.min(1, weight))
}

/** A dot that would lie on another one goes a row higher; after five rows they lie on one another. */
function placed(notes: readonly Note[], at: Across): { dots: { note: Note; row: number }[]; rows: number } {
  const mostRows = 5
  /** Of the width: as much as two large dots need on a phone. */
  const apart = 6
  const lasts: number[] = []
  const dots = [...notes]
    .sort((a, b) => a.value - b.value)
    .map((note) => {
      const x = at(note.value)
      const free = lasts.findIndex((last) => x - last >= apart)
      const row = free >= 0 ? free : lasts.length < mostRows ? lasts.length : 0
      lasts[row] = x
      return { note, row }
    })
  return { dots, rows: Math.max(1, lasts.length) }
}

/** Slanted strokes in a frame: told from the full bar without colour. */
function Pushed({ from, to, y }: { from: number; to: number; y: number }) {
  if (to - from < 0.2) return null
  const strokes = Math.max(1, Math.round((to - from) / 1.4))
  const step = (to - from) / strokes
  return (
    <g>
      <rect
        x={`${from}%`}
        y={y + 1}
        width={`${to - from}%`}
        height="12"
        fill="none"
        stroke="currentColor"
        strokeWidth="2"
      />
      {Array.from({ length: strokes }, (_, index) => {
        const left = from + index * step
        return (
          <line
            key={left}
            x1={`${left.toFixed(2)}%`}
            x2={`${(left + step).toFixed(2)}%`}
            y1={y + 13}
            y2={y + 1}
            stroke="currentColor"
            strokeWidth="1.5"
          />
        )
      })}
    </g>
  )
}
