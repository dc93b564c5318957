import { formatNumber, formatUnit } from './formats'
import { acrossOf, anchorAt, anchorOfWide } from './shapes'

export type ScaleReading = {
  value: number
  /** Half the width of the uncertainty drawn around the value; 0 for none. */
  plusMinus?: number
  label?: string
}

export type LimitScaleProps = {
  /** What is measured, for those who hear the picture. */
  title: string
  unit: string
  readings: readonly ScaleReading[]
  min?: number | null
  max?: number | null
  asNew?: number | null
  saleMin?: number | null
  saleMax?: number | null
}

const line = { top: 34, bottom: 62, middle: 48 } as const
/** Labels of readings stand in rows under each other, so that near ones can be read. */
const rowHeight = 16
const mostRows = 8

/**
 * Readings on a scale with the limit, the sale line and the value of a new part. What is past a limit is
 * hatched, so that it can be told without colour. Drawn whole on the server.
 */
export function LimitScale(props: LimitScaleProps) {
  const bounds = boundsOf(props)
  const at = acrossOf([
    ...bounds.map(({ value }) => value),
    ...props.readings.flatMap(({ value, plusMinus = 0 }) => [value - plusMinus, value + plusMinus]),
  ])
  if (bounds.length + props.readings.length === 0) return null
  const rows = Math.min(props.readings.length, mostRows)
  const unit = formatUnit(props.unit)
  return (
    <svg
      role="img"
      aria-label={scaleSays(props)}
      width="100%"
      height={line.bottom + 6 + rows * rowHeight}
      className="block text-ink"
    >
      {isGiven(props.min) && <Forbidden from={0} to={at(props.min)} />}
      {isGiven(props.max) && <Forbidden from={at(props.max)} to={100} />}
      <line x1="0" x2="100%" y1={line.middle} y2={line.middle} stroke="currentColor" strokeWidth="1.5" />
      {bounds.map(({ name, value, look }, index) => (
        <g key={name}>
          <line
            x1={`${at(value)}%`}
            x2={`${at(value)}%`}
            y1={line.top}
            y2={line.bottom}
            stroke="currentColor"
            strokeWidth={look === 'limit' ? 3.5 : 2}
            strokeDasharray={look === 'sale' ? '5 3' : look === 'new' ? '1.5 3' : undefined}
          />
          <text
            x={`${at(value)}%`}
            y={index % 2 === 0 ? 13 : 28}
            textAnchor={anchorAt(at(value))}
            fill="currentColor"
            fontSize="13"
          >
            {`${name} ${formatNumber(value)} ${unit}`}
          </text>
        </g>
      ))}
      {props.readings.map(({ value, plusMinus = 0, label }, index) => (
        <g key={label ?? `${index} ${value}`} className="text-accent">
          {plusMinus > 0 && (
            <line
              x1={`${at(value - plusMinus)}%`}
              x2={`${at(value + plusMinus)}%`}
              y1={line.middle}
              y2={line.middle}
              stroke="currentColor"
              strokeWidth="7"
              strokeOpacity="0.4"
            />
          )}
          <circle cx={`${at(value)}%`} cy={line.middle} r="5.5" fill="currentColor" />
          <text
            x={`${at(value)}%`}
            y={line.bottom + rowHeight + (index % mostRows) * rowHeight}
            textAnchor={(label ? anchorOfWide : anchorAt)(at(value))}
            fill="currentColor"
            fontSize="13"
            fontWeight="600"
          >
            {label ? `${label} ${formatNumber(value)}` : formatNumber(value)}
          </text>
        </g>
      ))}
    </svg>
  )
}

/** The picture in one sentence. */
export function scaleSays({ title, unit, readings, ...limits }: LimitScaleProps): string {
  const values = readings.map(({ value, label, plusMinus }) => {
    const width = plusMinus ? ` give or take ${formatNumber(plusMinus)}` : ''
    return `${label ? `${label} ` : ''}${formatNumber(value)}${width}`
  })
  const lines = boundsOf(limits).map(({ name, value }) => `${name} ${formatNumber(value)}`)
  const read = values.length > 0 ? `read ${values.join(', ')}` : 'no reading yet'
  return `${title}, in ${formatUnit(unit)}: ${[read, ...lines].join('; ')}.`
}

type Bound = { name: string; value: number; look: 'limit' | 'sale' | 'new' }

function boundsOf(given: Pick<LimitScaleProps, 'min' | 'max' | 'asNew' | 'saleMin' | 'saleMax'>): Bound[] {
  const all: { name: string; value: number | null | undefined; look: Bound['look'] }[] = [
    { name: 'least', value: given.min, look: 'limit' },
    { name: 'sale line', value: given.saleMin, look: 'sale' },
    { name: 'new', value: given.asNew, look: 'new' },
    { name: 'sale line', value: given.saleMax, look: 'sale' },
    { name: 'most', value: given.max, look: 'limit' },
  ]
  return all.filter((bound): bound is Bound => isGiven(bound.value)).sort((a, b) => a.value - b.value)
}

function isGiven(value: number | null | undefined): value is number {
  return value !== null && value !== undefined
}

/** Upright strokes over the ground past a limit. */
function Forbidden({ from, to }: { from: number; to: number }) {
  if (to <= from) return null
  const strokes = Math.max(1, Math.floor((to - from) / 1.6))
  return (
    <g className="text-plum">
      {Array.from({ length: strokes }, (_, index) => {
        const x = `${(from + ((index + 0.5) * (to - from)) / strokes).toFixed(2)}%`
        return (
          <line key={x} x1={x} x2={x} y1="41" y2="55" stroke="currentColor" strokeWidth="1" opacity="0.55" />
        )
      })}
    </g>
  )
}
