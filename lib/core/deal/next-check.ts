import { costSpreads } from '../work/estimate'
import type { EstimateInput } from '../work/estimate.input'
import { type Prospect, prospectWith } from './deal'
import type { DealInput } from './deal.input'
import type { NextCheckInput } from './next-check.input'

export type { NextCheckInput, NextCheckRawInput } from './next-check.input'

/** What one open check is worth, in minor units, not rounded. */
export interface CheckWorth {
  key: string
  value: number
  valuePerMinute: number
  /** What knowing the answer is worth to the decision whether to buy at what is asked; never below 0. */
  decisionValue: number
  /** What a fault found takes off the price by talking. */
  priceValue: number
  chanceFound: number
  /** Under each answer; null where it cannot come. */
  ifClean: { walkAway: number | null } | null
  ifFound: { walkAway: number | null } | null
}

/** The same before its walk-away prices are worked out, which is done when they are asked for. */
export type RankedCheck = Omit<CheckWorth, 'ifClean' | 'ifFound'> & {
  ifClean: (() => number | null) | null
  ifFound: (() => number | null) | null
}

/**
 * Which open check next. A check answers *found* with chance q·d (q: its fault is there, d: it finds what is there)
 * or *clean*. Each answer changes the chance of its jobs and, by Bayes' rule, of the states of care; the deal is
 * worked out under each. Safety checks stand first, in their order; then the best value per minute, ties by key.
 */
export function nextCheck(input: NextCheckInput): { order: CheckWorth[] } {
  return {
    order: rankChecks(input).map(({ ifClean, ifFound, ...check }) => ({
      ...check,
      ifClean: ifClean && { walkAway: ifClean() },
      ifFound: ifFound && { walkAway: ifFound() },
    })),
  }
}

/** The order of the checks and what each is worth; its walk-away prices are worked out when called. */
export function rankChecks({ deal, open, priceShare }: NextCheckInput): RankedCheck[] {
  const asked = open.map((check) => ({ check, answers: answersTo(check, deal.estimate) }))
  const estimates = asked.flatMap(({ answers }) =>
    [answers.found, answers.clean].filter((one) => one !== null),
  )
  const costs = costSpreads([deal.estimate, ...estimates])
  const prospects = new Map(
    [deal.estimate, ...estimates].map((estimate, place) => {
      const cost = costs[place]!
      return [estimate, { costMean: cost.mean, prospect: prospectWith({ ...deal, estimate }, cost) }]
    }),
  )
  const gainNow = gainOf(deal, prospects.get(deal.estimate)!.prospect)
  const worths = asked.map(({ check, answers }): RankedCheck & { safety: boolean } => {
    const { key, minutes, safety } = check
    const { chanceFound } = answers
    const found = answers.found && prospects.get(answers.found)!
    const clean = answers.clean && prospects.get(answers.clean)!
    const meanGain =
      (found ? chanceFound * gainOf(deal, found.prospect) : 0) +
      (clean ? (1 - chanceFound) * gainOf(deal, clean.prospect) : 0)
    // Where no answer changes the decision the two are one but for rounding.
    const decisionValue = meanGain - gainNow > 1e-6 ? meanGain - gainNow : 0
    const priceValue = found && clean ? priceShare * chanceFound * (found.costMean - clean.costMean) : 0
    const value = decisionValue + priceValue
    return {
      key,
      value,
      valuePerMinute: value / minutes,
      decisionValue,
      priceValue,
      chanceFound,
      ifClean: clean && (() => clean.prospect.walkAway()),
      ifFound: found && (() => found.prospect.walkAway()),
      safety,
    }
  })
  const first = worths.filter(({ safety }) => safety)
  const others = worths
    .filter(({ safety }) => !safety)
    .sort((a, b) => b.valuePerMinute - a.valuePerMinute || (a.key < b.key ? -1 : 1))
  return [...first, ...others].map(({ safety: _, ...check }) => check)
}

/** What going on at the asking price brings above the target; nothing where the rule says no. */
function gainOf({ asking, rule }: DealInput, prospect: Prospect): number {
  if (!prospect.keepsRuleAt(asking!)) return 0
  const gain = prospect.expectedMarginAt(asking!) - rule.targetMargin
  return rule.kind === 'confidence' ? Math.max(0, gain) : gain
}

interface Answers {
  /** q·d, all states of care taken together. */
  chanceFound: number
  /** The estimate under each answer; null where it cannot come. */
  found: EstimateInput | null
  clean: EstimateInput | null
}

/** One state of care, under a name that no state of an input has. */
const onlyState = [{ name: '', chance: 1 }]

function answersTo(
  { jobs, detects }: Pick<NextCheckInput['open'][number], 'jobs' | 'detects'>,
  estimate: EstimateInput,
): Answers {
  const group = estimate.oneOf.find((one) => Object.hasOwn(one.jobs, jobs[0]!))
  const job = estimate.jobs.find(({ key }) => key === jobs[0])!
  const whole = !group || jobs.length === Object.keys(group.jobs).length
  // A part of a group has a share of its chance; everything else counts in full.
  const share = whole ? 1 : group.jobs[jobs[0]!]!
  const chance = group ? group.chance : (job.chance ?? 1)
  const care = estimate.care ?? onlyState
  const inState = (of: number | Record<string, number>, name: string) =>
    typeof of === 'number' ? of : of[name]!
  const seen = care.map(({ name }) => inState(chance, name) * share * detects)
  const chanceFound = Math.min(
    1,
    care.reduce((sum, state, place) => sum + state.chance * seen[place]!, 0),
  )

  const withChance = (of: number | Record<string, number>, shares?: Record<string, number>): EstimateInput =>
    group
      ? {
          ...estimate,
          oneOf: estimate.oneOf.map((one) =>
            one === group ? { ...group, chance: of, jobs: shares ?? group.jobs } : one,
          ),
        }
      : { ...estimate, jobs: estimate.jobs.map((one) => (one === job ? { ...job, chance: of } : one)) }
  const withCare = (
    changed: EstimateInput,
    weigh: (place: number) => number,
    total: number,
  ): EstimateInput =>
    estimate.care
      ? {
          ...changed,
          care: care.map((state, place) => ({ ...state, chance: (state.chance * weigh(place)) / total })),
        }
      : changed

  const found = () => {
    const shares = whole ? undefined : onlyOne(group!.jobs, jobs[0]!)
    return withCare(withChance(1, shares), (place) => seen[place]!, chanceFound)
  }
  const clean = () => {
    const left = (of: number, state: number) => (state < 1 ? of / (1 - state) : 0)
    const cleared = (name: string) => {
      const here = inState(chance, name)
      return left(here * (1 - share * detects), here * share * detects)
    }
    const shares = whole ? undefined : withoutSeen(group!.jobs, { key: jobs[0]!, detects })
    const of = typeof chance === 'number' ? cleared('') : byState(care, cleared)
    return withCare(withChance(of, shares), (place) => 1 - seen[place]!, 1 - chanceFound)
  }
  return {
    chanceFound,
    found: chanceFound > 0 ? found() : null,
    clean: chanceFound < 1 ? clean() : null,
  }
}

function byState(care: readonly { name: string }[], of: (name: string) => number): Record<string, number> {
  return Object.fromEntries(care.map(({ name }) => [name, of(name)]))
}

function onlyOne(shares: Record<string, number>, key: string): Record<string, number> {
  return Object.fromEntries(Object.keys(shares).map((job) => [job, job === key ? 1 : 0]))
}

/** The shares of a group once a look has not found one of its jobs; unchanged where there is nothing else. */
function withoutSeen(
  shares: Record<string, number>,
  { key, detects }: { key: string; detects: number },
): Record<string, number> {
  const left = 1 - shares[key]! * detects
  if (left <= 0) return shares
  return Object.fromEntries(
    Object.entries(shares).map(([job, share]) => [job, (job === key ? share * (1 - detects) : share) / left]),
  )
}
