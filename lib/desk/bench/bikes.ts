import { type DealInput, dealInput } from '../../core/deal/deal.input'
import { type EstimateInput, estimateInput } from '../../core/work/estimate.input'
import { type ScopeInput, scopeInput } from '../../core/work/scope.input'
import { chanceFrom } from './chance'

export interface Size {
  jobs: number
  uncertain: number
  operations: number
}

/**
 * An invented bike from a seed. Operations stand in a row as parts do along a bike: some begin a tree, others need one
 * of the three before them. Jobs stand along the same row and need none, one or two operations near their place, so
 * that neighbours share. Three states of care and three of the fasteners; hours, prices and chances are invented.
 */
export function randomBike(seed: number, { jobs, uncertain, operations }: Size): EstimateInput {
  const random = chanceFrom(seed)
  const between = (low: number, high: number) => low + (high - low) * random()
  const upTo = (count: number) => Math.floor(count * random())
  const guess = (low: number, high: number) => {
    const from = between(low, (low + high) / 2)
    const to = from * between(1.5, 3.5)
    return { low: from, likely: from + (to - from) * between(0.2, 0.6), high: to }
  }
  const price = (low: number, high: number) => {
    const exact = guess(low, high)
    return { low: Math.round(exact.low), likely: Math.round(exact.likely), high: Math.round(exact.high) }
  }
  const open = new Set(shuffled(jobs, random).slice(0, uncertain))
  return estimateInput.parse({
    labourRate: 5200,
    operations: Object.fromEntries(
      Array.from({ length: operations }, (_, place) => [
        `operation ${place}`,
        {
          hours: guess(0.2, 1.5),
          needs: place > 0 && random() < 0.5 ? [`operation ${place - 1 - upTo(Math.min(3, place))}`] : [],
          fasteners: random() < 0.85,
        },
      ]),
    ),
    jobs: Array.from({ length: jobs }, (_, place) => {
      const near = Math.floor((place * operations) / jobs)
      const count = [0, 1, 1, 1, 2][upTo(5)]!
      const named = Array.from({ length: count }, () => Math.min(operations - 1, near + upTo(3)))
      const chance = between(0.03, 0.43)
      return {
        key: `job ${place}`,
        operations: [...new Set(named)].map((at) => `operation ${at}`),
        hours: guess(0.2, 2),
        parts: random() < 0.7 ? [{ name: 'part', qty: 1 + upTo(3), unitCost: price(500, 6000) }] : [],
        fasteners: random() < 0.9,
        chance: open.has(place)
          ? { kept: 0.3 * chance, average: chance, neglected: Math.min(1, 2 * chance) }
          : 1,
      }
    }),
    fasteners: [
      { name: 'free', chance: 0.7, factor: 1 },
      { name: 'stiff', chance: 0.25, factor: 1.4 },
      { name: 'seized', chance: 0.05, factor: 2.2 },
    ],
    care: [
      { name: 'kept', chance: 0.35 },
      { name: 'average', chance: 0.45 },
      { name: 'neglected', chance: 0.2 },
    ],
  })
}

/** The same kind of bike as a question of which jobs pay: amounts that nearly balance, up to three alternative pairs. */
export function randomScope(
  seed: number,
  { jobs, operations, requires }: { jobs: number; operations: number; requires: boolean },
): ScopeInput {
  const random = chanceFrom(seed)
  const upTo = (count: number) => Math.floor(count * random())
  const bike = randomBike(seed, { jobs, uncertain: 0, operations })
  const order = shuffled(jobs, random)
  return scopeInput.parse({
    operations: Object.fromEntries(
      Object.entries(bike.operations).map(([key, { needs }]) => [key, { cost: 1000 + upTo(7000), needs }]),
    ),
    jobs: bike.jobs.map(({ key, operations: named }, place) => {
      const cost = 500 + upTo(12_000)
      return {
        key,
        operations: named,
        cost,
        uplift: Math.round(cost * 2.5 * random()) + (named.length > 0 ? upTo(9000) : 0),
        must: random() < 0.1,
        requires:
          requires && place > 0 && random() < 0.25 ? [`job ${place - 1 - upTo(Math.min(4, place))}`] : [],
      }
    }),
    alternatives: Array.from({ length: upTo(4) }, (_, pair) => [
      `job ${order[2 * pair]}`,
      `job ${order[2 * pair + 1]}`,
    ]),
  })
}

/** A bike's work with an invented sale above what it costs, and days, costs and tax as a shop has them. */
export function dealOf(estimate: EstimateInput): DealInput {
  const terms = dealInput.parse({
    sale: { low: 600_000, likely: 700_000, high: 800_000 },
    estimate: { labourRate: 0, jobs: [] },
    standingCosts: 14_500,
    holding: { perDay: 150, moneyPerYear: 0.08 },
    daysToReady: { low: 5, likely: 9, high: 20 },
    daysToSell: { low: 7, likely: 21, high: 60 },
    sellingCosts: 4000,
    reserveShareOfSale: 0.035,
    tax: { scheme: 'margin', rate: 0.2 },
    rule: { kind: 'average', targetMargin: 40_000, maxChanceOfLoss: 0.1 },
    asking: 140_000,
  })
  return { ...terms, estimate }
}

function shuffled(count: number, random: () => number): number[] {
  const places = Array.from({ length: count }, (_, place) => place)
  for (let at = count - 1; at > 0; at--) {
    const other = Math.floor((at + 1) * random())
    ;[places[at], places[other]] = [places[other]!, places[at]!]
  }
  return places
}
