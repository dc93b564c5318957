import type { TyreSize } from '../../../lib/core/codes/tyre-size'
import { formatNumber, formatValue } from '../../_ui/formats'

/** Room around the drawing and for its letters, in the millimetres of the drawing. */
const room = { edge: 12, between: 110, side: 300, foot: 136 } as const
const letters = 56

/** A wheel from the side and its tyre from the front, both in true proportion. Drawn whole on the server. */
export function TyreSection({ size }: { size: TyreSize }) {
  const { widthMm, sideWallMm, overallMm, rimIn } = size
  const radius = overallMm / 2
  const centre = { x: room.edge + radius, y: room.edge + radius }
  const front = { left: room.edge + overallMm + room.between, top: room.edge }
  const foot = room.edge + overallMm + 36
  return (
    <svg
      role="img"
      aria-label={sectionSays(size)}
      viewBox={`0 0 ${up(front.left + widthMm + room.side)} ${up(overallMm + room.edge + room.foot)}`}
      className="block w-full max-w-xl text-ink"
      fontSize={letters}
      strokeWidth="4"
      stroke="currentColor"
      fill="none"
    >
      <circle cx={centre.x} cy={centre.y} r={radius} className="fill-grey-wash" />
      <circle cx={centre.x} cy={centre.y} r={radius - sideWallMm} className="fill-sheet" />
      <Letters x={centre.x} y={centre.y - 8}>
        rim
      </Letters>
      <Letters x={centre.x} y={centre.y + letters}>{`${formatNumber(rimIn)} in`}</Letters>
      <Across from={room.edge} to={room.edge + overallMm} y={foot} label={whole(overallMm)} />

      <rect
        x={front.left}
        y={front.top}
        width={widthMm}
        height={overallMm}
        rx={widthMm * 0.42}
        className="fill-grey-wash"
      />
      {[sideWallMm, overallMm - sideWallMm].map((down) => (
        <line
          key={down}
          x1={front.left}
          x2={front.left + widthMm}
          y1={front.top + down}
          y2={front.top + down}
          strokeDasharray="14 9"
        />
      ))}
      <Across from={front.left} to={front.left + widthMm} y={foot} label={whole(widthMm)} />
      <Down
        from={front.top}
        to={front.top + sideWallMm}
        x={front.left + widthMm + 34}
        label={whole(sideWallMm)}
      />
    </svg>
  )
}

/** The picture in one sentence. */
export function sectionSays({ widthMm, sideWallMm, overallMm, rimIn }: TyreSize): string {
  return `A wheel from the side and from the front: ${whole(widthMm)} wide, side wall ${whole(sideWallMm)}, rim ${formatNumber(rimIn)} inches, ${whole(overallMm)} over all.`
}

function whole(millimetres: number): string {
  return formatValue(millimetres, 'mm', 0)
}

function up(value: number): number {
  return Math.ceil(value)
}

/** A length with a stroke at either end and its figure under it. */
function Across({ from, to, y, label }: { from: number; to: number; y: number; label: string }) {
  return (
    <g>
      <path d={`M${from} ${y}H${to}M${from} ${y - 16}v32M${to} ${y - 16}v32`} />
      <Letters x={(from + to) / 2} y={y + letters + 14}>
        {label}
      </Letters>
    </g>
  )
}

/** A height with its figure to the right. */
function Down({ from, to, x, label }: { from: number; to: number; x: number; label: string }) {
  return (
    <g>
      <path d={`M${x} ${from}V${to}M${x - 16} ${from}h32M${x - 16} ${to}h32`} />
      <Letters x={x + 28} y={(from + to) / 2 + letters / 3} anchor="start">
        {label}
      </Letters>
    </g>
  )
}

function Letters({
  x,
  y,
  anchor = 'middle',
  children,
}: {
  x: number
  y: number
  anchor?: 'start' | 'middle'
  children: string
}) {
  return (
    <text x={x} y={y} textAnchor={anchor} fill="currentColor" stroke="none">
      {children}
    </text>
  )
}
