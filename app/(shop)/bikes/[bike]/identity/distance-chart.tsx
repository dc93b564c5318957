import { daysBetween } from '../../../../../lib/core/quantity/days'
import { convert } from '../../../../../lib/core/quantity/units'
import type { DistancesShown } from '../../../../../lib/shop/distances-of'
import { distanceUnitWords, formatDistance } from '../../../../_ui/distance-words'
import { countOf, formatDay } from '../../../../_ui/formats'
import { acrossOf, anchorAt } from '../../../../_ui/shapes'

/** Room above for the highest label, below for the days. */
const field = { top: 26, bottom: 150, height: 178 } as const

/**
 * Dated distances against time. A point below an earlier one is a triangle that points down, with the word
 * beside it, and the line to it is broken. Drawn whole on the server.
 */
export function DistanceChart({ distances }: { distances: DistancesShown }) {
  const { points, falls, unit } = distances
  const first = points[0]
  const last = points.at(-1)
  if (!first || !last || points.length < 2) return null
  const fallen = new Set(falls.map(({ to }) => to.id))
  const drawn = points.map(({ id, day, distance, unit: own }) => ({
    id,
    after: daysBetween(first.day, day),
    distance: convert(distance, own, unit),
    falls: fallen.has(id),
  }))
  const x = acrossOf(drawn.map(({ after }) => after))
  const highest = Math.max(...drawn.map(({ distance }) => distance), 1)
  const y = (distance: number) => Math.round(field.bottom - (distance / highest) * (field.bottom - field.top))
  return (
    <svg
      role="img"
      aria-label={chartSays(distances)}
      width="100%"
      height={field.height}
      className="block text-ink"
    >
      <line x1="0" x2="100%" y1={field.bottom} y2={field.bottom} stroke="currentColor" strokeWidth="1.5" />
      <line x1="0" x2="100%" y1={y(highest)} y2={y(highest)} stroke="currentColor" strokeDasharray="2 4" />
      <text x="0" y={y(highest) - 8} fill="currentColor" fontSize="13">
        {formatDistance(highest, unit)}
      </text>
      <g className="text-accent">
        {drawn.slice(1).map((to, index) => {
          const from = drawn[index]!
          return (
            <line
              key={to.id}
              x1={`${x(from.after)}%`}
              y1={y(from.distance)}
              x2={`${x(to.after)}%`}
              y2={y(to.distance)}
              stroke="currentColor"
              strokeWidth="2"
              strokeDasharray={to.falls ? '6 4' : undefined}
            />
          )
        })}
      </g>
      {drawn.map((point) => {
        const place = `${x(point.after)}%`
        if (!point.falls)
          return (
            <circle
              key={point.id}
              cx={place}
              cy={y(point.distance)}
              r="5"
              className="text-accent"
              fill="currentColor"
            />
          )
        const anchor = anchorAt(x(point.after))
        return (
          <g key={point.id} className="text-plum">
            <svg x={place} y={y(point.distance)} overflow="visible" aria-hidden="true">
              <path d="M-9-8H9L0 8Z" fill="currentColor" />
            </svg>
            <text
              x={place}
              y={y(point.distance) - 14}
              textAnchor={anchor}
              fill="currentColor"
              fontSize="13"
              fontWeight="600"
            >
              falls
            </text>
          </g>
        )
      })}
      <text x={`${x(0)}%`} y={field.bottom + 20} textAnchor="start" fill="currentColor" fontSize="13">
        {formatDay(first.day)}
      </text>
      {last.day !== first.day && (
        <text
          x={`${x(drawn.at(-1)!.after)}%`}
          y={field.bottom + 20}
          textAnchor="end"
          fill="currentColor"
          fontSize="13"
        >
          {formatDay(last.day)}
        </text>
      )}
    </svg>
  )
}

/** The picture in one sentence. */
export function chartSays({ points, falls, unit }: DistancesShown): string {
  const first = points[0]
  const last = points.at(-1)
  if (!first || !last) return 'No dated distance.'
  const told = ({ day, distance, unit: own }: typeof first) =>
    `${formatDistance(distance, own)} on ${formatDay(day)}`
  const fall = falls.length === 0 ? 'it never falls' : countOf(falls.length, 'fall')
  return `Distance in ${distanceUnitWords[unit]} against time, ${countOf(points.length, 'point')}, from ${told(first)} to ${told(last)}: ${fall}.`
}
