import { formatNumber } from './formats'
import { type Across, across, acrossOf, anchorAt, areaPath, cutAt, type Point } from './shapes'

export type Spread = {
  /** One in ten ends below. */
  low: number
  middle: number
  /** One in ten ends above. */
  high: number
  /** Outline of the distribution, left to right; without it only the three values are drawn. */
  shape?: readonly Point[] | null
}

type StripProps = {
  spread: Spread
  /** What is spread, for those who hear the picture: "Margin". */
  title: string
  /** How a value is written. */
  format?: (value: number) => string
  /** Marks zero and tells what lies below it by an empty area: for margins. */
  zero?: boolean
  /** Both ends of the scale, so that the rows of a table can be compared by eye. */
  domain?: readonly [number, number]
}

/**
 * How far a figure may fall either side: the outline, the middle eight tenths as a bar, the middle as a post.
 * A plain function of its data, so it draws on the server and in the browser alike.
 */
export function SpreadStrip({ spread, title, format = formatNumber, zero = false, domain }: StripProps) {
  const at = scaleOf(spread, { zero, domain })
  const height = spread.shape ? 64 : 8
  const marks = [
    { name: 'low', value: spread.low },
    { name: 'middle', value: spread.middle },
    { name: 'high', value: spread.high },
  ]
  return (
    <figure className="flex flex-col gap-2">
      <figcaption className="sr-only">{spreadSays({ spread, title, format })}</figcaption>
      <svg aria-hidden="true" width="100%" height={height + 32} className="block text-accent">
        <Outline spread={spread} at={at} zero={zero} height={height} />
        <Bar spread={spread} at={at} zero={zero} y={height + 8} thick={8} />
        {zero && <Zero at={at} height={height + 26} label={format(0)} />}
      </svg>
      <dl className="grid grid-cols-3 text-center">
        {marks.map(({ name, value }) => (
          <div key={name} className="flex flex-col first:text-left last:text-right">
            <dt className="text-sm text-soft">{name}</dt>
            <dd className={name === 'middle' ? 'text-lg font-semibold' : ''}>{format(value)}</dd>
          </div>
        ))}
      </dl>
    </figure>
  )
}

/** The same as one line of a table. */
export function SpreadLine({ spread, title, format = formatNumber, zero = false, domain }: StripProps) {
  const at = scaleOf(spread, { zero, domain })
  return (
    <svg
      role="img"
      aria-label={spreadSays({ spread, title, format })}
      width="100%"
      height="28"
      className="block min-w-24 text-accent"
    >
      <Outline spread={spread} at={at} zero={zero} height={20} />
      <Bar spread={spread} at={at} zero={zero} y={21} thick={6} />
      {zero && <Zero at={at} height={28} />}
    </svg>
  )
}

/** The picture in one sentence. */
export function spreadSays({ spread, title, format = formatNumber }: StripProps): string {
  const { low, middle, high } = spread
  return `${title}: middle ${format(middle)}; eight times in ten between ${format(low)} and ${format(high)}.`
}

/** What is lower than this share of the highest point cannot be told from the line. */
const leastSeen = 0.01

function scaleOf(
  { low, middle, high, shape }: Spread,
  { zero, domain }: { zero: boolean; domain?: readonly [number, number] },
): Across {
  if (domain) return across(domain)
  // A long thin tail would press all that can be seen into a corner.
  const highest = Math.max(0, ...(shape ?? []).map((point) => point.y))
  const outer = (shape ?? []).filter((point) => point.y >= highest * leastSeen).map((point) => point.x)
  return acrossOf([low, middle, high, ...outer, ...(zero ? [0] : [])], 0.04)
}

/** The nested picture is stretched to the width; its lines are not. */
function Outline({
  spread,
  at,
  zero,
  height,
}: {
  spread: Spread
  at: Across
  zero: boolean
  height: number
}) {
  const { shape } = spread
  if (!shape || shape.length < 2) return null
  const highest = Math.max(...shape.map((point) => point.y))
  const given = { across: at, height, highest }
  return (
    <svg
      x="0"
      y="0"
      width="100%"
      height={height}
      viewBox={`0 0 100 ${height}`}
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      <path
        d={areaPath(zero ? cutAt(shape, 0, 'above') : shape, given)}
        fill="currentColor"
        fillOpacity="0.3"
      />
      <path
        d={areaPath(shape, given)}
        fill="none"
        stroke="currentColor"
        strokeWidth="1.5"
        vectorEffect="non-scaling-stroke"
      />
    </svg>
  )
}

/** The middle eight tenths; where zero counts, what is lost is hollow. */
function Bar({
  spread: { low, middle, high },
  at,
  zero,
  y,
  thick,
}: {
  spread: Spread
  at: Across
  zero: boolean
  y: number
  thick: number
}) {
  const solidFrom = zero ? Math.min(Math.max(low, 0), high) : low
  const width = Math.max(0.3, at(high) - at(solidFrom))
  return (
    <>
      {solidFrom > low && (
        <rect
          x={`${at(low)}%`}
          y={y - thick / 2 + 0.75}
          width={`${at(solidFrom) - at(low)}%`}
          height={thick - 1.5}
          fill="none"
          stroke="currentColor"
          strokeWidth="1.5"
        />
      )}
      {high > solidFrom || solidFrom === low ? (
        <rect
          x={`${at(solidFrom)}%`}
          y={y - thick / 2}
          width={`${width}%`}
          height={thick}
          fill="currentColor"
        />
      ) : null}
      <line
        x1={`${at(middle)}%`}
        x2={`${at(middle)}%`}
        y1={y - thick * 1.5}
        y2={y + thick * 1.5}
        className="text-ink"
        stroke="currentColor"
        strokeWidth="3"
      />
    </>
  )
}

function Zero({ at, height, label }: { at: Across; height: number; label?: string }) {
  const x = at(0)
  return (
    <g className="text-plum">
      <line
        x1={`${x}%`}
        x2={`${x}%`}
        y1="0"
        y2={height}
        stroke="currentColor"
        strokeWidth="2"
        strokeDasharray="4 3"
      />
      {label && (
        <text
          x={`${x}%`}
          y={height + 5}
          dx={anchorAt(x) === 'end' ? -5 : 5}
          textAnchor={anchorAt(x) === 'end' ? 'end' : 'start'}
          fill="currentColor"
          fontSize="13"
          fontWeight="600"
        >
          {label}
        </text>
      )}
    </g>
  )
}
