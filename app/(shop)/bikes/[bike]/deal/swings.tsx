import type { Swing, UncertainInput } from '../../../../../lib/core/deal/sensitivity'
import { formatMoney } from '../../../../_ui/formats'

const swingWords: Record<UncertainInput, { name: string; bad: string; good: string }> = {
  sale: { name: 'Sale price', bad: 'sells badly', good: 'sells well' },
  work: { name: 'Parts and labour', bad: 'much work', good: 'little work' },
  'days-to-sell': { name: 'Days to sell', bad: 'sells slowly', good: 'sells soon' },
  unseen: { name: 'What is not checked', bad: 'as it stands', good: 'all of it checked and good' },
}

/** What moves the walk-away price most, one input at a time. */
export function Swings({ swings, currency }: { swings: readonly Swing[]; currency: string }) {
  if (swings.length === 0) return <p>Nothing is uncertain here.</p>
  const price = (minor: number | null) => (minor === null ? 'no price' : formatMoney(minor, currency))
  return (
    <ol className="flex flex-col">
      {swings.map(({ input, walkAway }) => {
        const { name, bad, good } = swingWords[input]
        return (
          <li
            key={input}
            className="grid gap-x-6 gap-y-1 border-b border-rule py-2 last:border-0 sm:grid-cols-3"
          >
            <span className="font-semibold">{name}</span>
            <span>
              {price(walkAway.bad)} <span className="text-soft">{bad}</span>
            </span>
            <span>
              {price(walkAway.good)} <span className="text-soft">{good}</span>
            </span>
          </li>
        )
      })}
    </ol>
  )
}
