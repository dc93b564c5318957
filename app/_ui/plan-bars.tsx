import { Fragment } from 'react'

/** A stretch of a row; `from` and `to` are shares of the whole width, 0 to 1. */
export type PlanBar = {
  id: string
  from: number
  to: number
  /** Stands in the bar where there is room. */
  text: string
  /** Told where one points at it. */
  says: string
  look: 'work' | 'wait' | 'settled'
}

export type PlanRow = { label: string; bars: readonly PlanBar[] }

const rowHeight = 40
const barHeight = 30
const headHeight = 30

/**
 * Rows of bars against days. Work is a full bar with its name, waiting a hatched one, what is settled has a thick edge.
 * A plain function of its data, so that it draws on the server. Whoever hears the page is told `says`, and finds the
 * same in the lists beside it.
 */
export function PlanBars({
  rows,
  days,
  now,
  says,
}: {
  rows: readonly PlanRow[]
  /** Where each day begins, as a share of the width. */
  days: readonly { from: number; label: string }[]
  now: number | null
  says: string
}) {
  const height = headHeight + rows.length * rowHeight
  return (
    <div className="flex">
      <div aria-hidden="true" className="w-28 shrink-0 pt-[30px] max-md:w-24 max-md:text-sm">
        {rows.map(({ label }) => (
          <div
            key={label}
            className="flex h-10 items-center truncate border-t border-rule pr-2 font-semibold"
          >
            {label}
          </div>
        ))}
      </div>
      <section aria-label={says} className="min-w-0 grow overflow-x-clip">
        <svg aria-hidden="true" width="100%" height={height} className="block text-ink">
          <defs>
            <pattern
              id="plan-wait"
              width="6"
              height="6"
              patternUnits="userSpaceOnUse"
              patternTransform="rotate(45)"
            >
              <rect width="6" height="6" className="fill-sheet" />
              <line x1="0" y1="0" x2="0" y2="6" className="stroke-edge" strokeWidth="2" />
            </pattern>
          </defs>
          {days.map(({ from, label }, no) => (
            <Fragment key={label}>
              <line x1={`${from * 100}%`} x2={`${from * 100}%`} y1="0" y2={height} className="stroke-rule" />
              <text
                x={`${from * 100}%`}
                dx="5"
                y="18"
                fill="currentColor"
                fontSize="14"
                // A phone has room for the name of every fourth day.
                className={no % 4 === 0 ? '' : 'max-md:hidden'}
              >
                {label}
              </text>
            </Fragment>
          ))}
          {rows.map(({ label, bars }, no) => (
            <g key={label}>
              <line
                x1="0"
                x2="100%"
                y1={headHeight + no * rowHeight}
                y2={headHeight + no * rowHeight}
                className="stroke-rule"
              />
              {bars.map((bar) => (
                <Bar key={bar.id} bar={bar} y={headHeight + no * rowHeight + (rowHeight - barHeight) / 2} />
              ))}
            </g>
          ))}
          {now !== null && (
            <line
              x1={`${now * 100}%`}
              x2={`${now * 100}%`}
              y1={headHeight - 8}
              y2={height}
              className="stroke-plum"
              strokeWidth="3"
            />
          )}
        </svg>
      </section>
    </div>
  )
}

/** About as wide as two figures of the text in the narrowest picture, as a share of its width. */
const roomForText = 0.035

function Bar({ bar: { from, to, text, says, look }, y }: { bar: PlanBar; y: number }) {
  const width = Math.max(0.002, to - from)
  const isWait = look === 'wait'
  return (
    <g>
      <title>{says}</title>
      <rect
        x={`${from * 100}%`}
        y={y}
        width={`${width * 100}%`}
        height={barHeight}
        fill={isWait ? 'url(#plan-wait)' : undefined}
        className={`${isWait ? '' : 'fill-accent'} ${look === 'settled' ? 'stroke-plum' : 'stroke-sheet'}`}
        // A thin bar keeps its body: the line around it is the colour of the sheet.
        strokeWidth={look === 'settled' ? 5 : width < 0.03 ? 0.5 : 1.5}
      />
      {width >= roomForText && (
        <text
          x={`${(from + width / 2) * 100}%`}
          y={y + barHeight / 2 + 5}
          textAnchor="middle"
          fontSize="14"
          fontWeight="700"
          className={`${isWait ? 'fill-ink stroke-sheet [paint-order:stroke]' : 'fill-on-accent'} ${width < 0.1 ? 'max-md:hidden' : ''}`}
          strokeWidth={isWait ? 5 : 0}
        >
          {text}
        </text>
      )}
    </g>
  )
}
