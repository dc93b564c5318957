import type { DealRawInput } from '../../lib/core/deal/deal.input'

/** An invented bike in which everything is uncertain that can be. */
export const usualDeal: DealRawInput = {
  sale: { low: 200_000, likely: 235_000, high: 260_000 },
  estimate: {
    labourRate: 5200,
    operations: { 'tank-off': { hours: { low: 0.2, likely: 0.3, high: 0.6 } } },
    jobs: [
      { key: 'boots', operations: ['tank-off'], hours: { low: 0.8, likely: 1.5, high: 3 } },
      { key: 'reseal', operations: ['tank-off'], hours: 2.5, chance: 0.35 },
      { key: 'engine', outsideWork: { low: 20_000, likely: 40_000, high: 90_000 }, chance: 0.1 },
    ],
    fasteners: [
      { name: 'free', chance: 0.8, factor: 1 },
      { name: 'stuck', chance: 0.2, factor: 1.8 },
    ],
  },
  standingCosts: 9000,
  holding: { perDay: 150, moneyPerYear: 0.08 },
  daysToReady: { low: 3, likely: 6, high: 15 },
  daysToSell: { low: 7, likely: 21, high: 60 },
  sellingCosts: 4000,
  buyingCosts: { fixed: 1500, shareOfPrice: 0.01 },
  reserveShareOfSale: 0.035,
  tax: { scheme: 'margin', rate: 0.2 },
  rule: { kind: 'average', targetMargin: 40_000, maxChanceOfLoss: 0.1 },
  asking: 140_000,
}
