import type { FigureKey, Figures } from './figures.input'

/** Invented starting values. Money is in minor units of whatever the shop's currency is. */
export const startingFigures: Figures = {
  labourCostMinor: 5200,
  tax: {
    scheme: 'margin',
    rate: 0.2,
    purchaseTax: 0,
    purchaseTaxed: false,
    tradeInCredit: 0,
  },
  dayPrice: { perDayMinor: 150, moneyPerYear: 0.08 },
  daysToSell: { low: 7, likely: 21, high: 60 },
  targetMarginMinor: 40_000,
  maxChanceOfLoss: 0.1,
  reserveShareOfSale: 0.035,
  standingCostsMinor: 14_500,
  sellingCostsMinor: 4000,
  buyingCosts: { fixedMinor: 0, shareOfPrice: 0 },
  fasteners: [
    { name: 'free', chance: 0.7, factor: 1 },
    { name: 'stiff', chance: 0.25, factor: 1.4 },
    { name: 'seized', chance: 0.05, factor: 2.2 },
  ],
  care: { kept: 0.35, average: 0.45, neglected: 0.2 },
  tyreAges: { guidance: 10, saleLine: 8 },
  workshop: { benchHoursPerDay: 5.5, daysBeforeStart: 5 },
  bench: {
    lifts: 2,
    weekdays: [1, 2, 3, 4, 5],
    fromMinute: 9 * 60,
    toMinute: 17 * 60,
    // Five and three quarter hours of eight.
    atTheBike: 0.72,
    awayDays: 6,
    orderDays: 4,
  },
  benchHourPriceMinor: 5200,
  bargaining: { openShare: 0.82, aimShare: 0.92, talkedOffShare: 0.5 },
  hiddenFaults: {
    refusedOdds: 2,
    // The catalogue's chances are those of the bikes that mostly come in, twenty to thirty years old.
    ageOdds: { slow: [0.5, 0.8, 1, 1.2], fast: [0.25, 0.55, 1, 1.4] },
    priorBikes: 20,
    learned: {},
  },
  learnedHours: { priorJobs: 4, learned: {} },
  notedPrices: {
    soldToAsked: 0.93,
    longStandingPerMonth: 0.015,
    halfLifeDays: 180,
    yearScale: 4,
    distanceScaleKm: 20_000,
    conditionStep: 0.6,
    markets: {
      private: { weight: 0.8, toRetail: 1.08 },
      trade: { weight: 1, toRetail: 1 },
      auction: { weight: 0.6, toRetail: 1.25 },
    },
  },
  season: [0.95, 0.97, 1, 1.03, 1.04, 1.03, 1.02, 1, 0.99, 0.97, 0.95, 0.94],
  owned: [],
}

/** Keys of the figures that still rest on starting values. */
export function restingOnStartingValues(figures: Figures): FigureKey[] {
  const keys = Object.keys(startingFigures).filter((key) => key !== 'owned') as FigureKey[]
  return keys.filter((key) => !figures.owned.includes(key))
}
