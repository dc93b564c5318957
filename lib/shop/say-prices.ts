import { typedMoney } from '../core/quantity/typed-money'
import { priceColumns, sayPricesInput } from './bike-fields'
import { deed, requireFresh } from './deed'
import { refuse } from './refusal'

/**
 * Corrects the prices of a bike alone, from what the person saw of them: whatever else of the bike was changed
 * meanwhile stays. It is what a phone sends that knows no version.
 */
export const sayPrices = deed('bike:change', sayPricesInput, async ({ bike: id, was, ...said }, { tx }) => {
  const before = await tx.bike.findUnique({ where: { id } })
  if (!before) return refuse('not-found', 'That bike is not there.')
  const columns = priceColumns(said)
  const { count } = await tx.bike.updateMany({
    where: { id, ...priceColumns(was) },
    data: { ...columns, version: { increment: 1 } },
  })
  requireFresh(count, {
    asking: typedMoney(before.askingMinor),
    saleLow: typedMoney(before.saleLowMinor),
    saleLikely: typedMoney(before.saleLikelyMinor),
    saleHigh: typedMoney(before.saleHighMinor),
  })
  const changed = Object.fromEntries(
    Object.entries(columns)
      .filter(([key, value]) => before[key as keyof typeof columns] !== value)
      .map(([key, value]) => [key, { from: before[key as keyof typeof columns], to: value }]),
  )
  return { answer: {}, event: { bikeId: id, body: { changed } } }
})
