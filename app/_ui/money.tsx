import { formatEstimate, formatMoney } from './formats'

/** An amount; one that rests on estimates is written in whole tens. */
export function Money({
  minor,
  currency,
  estimate = false,
}: {
  minor: number
  currency: string
  estimate?: boolean
}) {
  return (
    <span className="whitespace-nowrap">
      {estimate ? formatEstimate(minor, currency) : formatMoney(minor, currency)}
    </span>
  )
}
