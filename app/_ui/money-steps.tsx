import type { ReactNode } from 'react'
import { formatEstimate, formatMoney } from './formats'
import { type Step, stairs } from './shapes'

export type MoneyStep = Step & {
  note?: ReactNode
  /** A known amount among estimated ones: written as it is. */
  exact?: boolean
}

const signs = { start: '', less: '\u2212', more: '+', result: '' } as const

/**
 * From the sale price down to what is left, step by step: each bar hangs where the one before it ended.
 * It is a table, so it reads as one too; the bars only repeat the amounts.
 */
export function MoneySteps({
  steps,
  currency,
  caption,
  estimate = true,
}: {
  steps: readonly MoneyStep[]
  currency: string
  caption: string
  estimate?: boolean
}) {
  const { drawn, zero } = stairs(steps)
  const formatOf = (exact = !estimate) => (exact ? formatMoney : formatEstimate)
  return (
    <table className="ledger">
      <caption className="sr-only">{caption}</caption>
      <tbody>
        {drawn.map((step, index) => {
          const strong = step.part === 'start' || step.part === 'result'
          return (
            <tr key={step.label}>
              <th scope="row" className="w-2/5 sm:w-1/4">
                <span className={strong ? 'font-semibold' : ''}>{step.label}</span>
                {steps[index]?.note && <span className="block text-sm text-soft">{steps[index].note}</span>}
              </th>
              <td>
                <svg aria-hidden="true" width="100%" height="22" className={barTone(step)}>
                  <line
                    x1={`${zero}%`}
                    x2={`${zero}%`}
                    y1="0"
                    y2="22"
                    stroke="currentColor"
                    strokeWidth="1"
                  />
                  <rect
                    x={`${step.from}%`}
                    width={`${Math.max(0.4, step.to - step.from)}%`}
                    y="3"
                    height="16"
                    fill="currentColor"
                    fillOpacity={strong ? 1 : 0.55}
                  />
                </svg>
              </td>
              <td className={`num ${strong ? 'font-semibold' : ''}`}>
                <span className={step.part === 'result' ? 'total' : ''}>
                  {signs[step.part]}
                  {formatOf(steps[index]?.exact)(step.minor, currency)}
                </span>
              </td>
            </tr>
          )
        })}
      </tbody>
    </table>
  )
}

function barTone({ part, below }: { part: Step['part']; below: boolean }): string {
  if (below) return 'text-plum'
  return part === 'less' ? 'text-ochre' : 'text-accent'
}
