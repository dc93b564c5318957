import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { workOut } from '../../lib/core/board/bike-result'
import { type BoardRow, rank, rankings } from '../../lib/core/board/row'
import { startingFigures } from '../../lib/core/board/starting-figures'
import { careStates, type LookCheck } from '../../lib/core/checks/catalogue'
import { chanceIn } from '../../lib/core/checks/chance'
import { deriveFaults } from '../../lib/core/checks/faults'
import { noWork } from '../../lib/core/checks/judge-bike'
import type { Reading } from '../../lib/core/checks/reading'
import { meanMarginAt } from '../../lib/core/deal/margin'
import { momentsOf } from '../../lib/core/work/moments'
import { estimateInputOf } from '../../lib/core/work/propose-estimate'
import { proposeJobs } from '../../lib/core/work/propose-jobs'
import { workOf } from '../../lib/core/work/work'
import { anyBike, smallCatalogue, smallChecks } from '../support/small-catalogue'
import { asOf, judgements, now, reading } from '../support/small-readings'

const looks = smallChecks.filter((check): check is LookCheck => check.sort === 'look')

/** Any look answered in any way or not at all, and volts that charge or do not. */
const answers = fc
  .tuple(
    ...looks.map((check) => fc.constantFrom(null, ...check.answers.map(({ key }) => key))),
    fc.constantFrom(null, '12.7', '14.2'),
  )
  .map((values) => values as (string | null)[])

function readingsOf(values: readonly (string | null)[]): Reading[] {
  return values.flatMap((value, index) => {
    if (value === null) return []
    return [reading(looks[index]?.key ?? 'charging', value)]
  })
}

function proposed(values: readonly (string | null)[]) {
  const faults = deriveFaults({
    catalogue: smallCatalogue,
    kind: anyBike,
    judgements: judgements(readingsOf(values)),
    decisions: [],
  })
  const care = startingFigures.care
  const proposal = proposeJobs({ catalogue: smallCatalogue, kind: anyBike, faults, decisions: [], care })
  return { faults, proposal }
}

/** The expected margin, from means alone: the spread is not asked. */
function expectedMargin(values: readonly (string | null)[]): number {
  const { proposal } = proposed(values)
  const estimate = estimateInputOf({ proposal, catalogue: smallCatalogue, terms: startingFigures })
  const { cost } = momentsOf(workOf(estimate), estimate.labourRate)
  const saleOff = proposal.left.reduce((sum, { expectedSaleOffMinor }) => sum + expectedSaleOffMinor, 0)
  const terms = { sale: { low: 300_000, likely: 335_000, high: 360_000 }, saleOff, estimate }
  return meanMarginAt(
    {
      ...terms,
      standingCosts: 0,
      holding: { perDay: 0, moneyPerYear: 0 },
      daysToReady: 0,
      daysToSell: 0,
      sellingCosts: 0,
      buyingCosts: { fixed: 0, shareOfPrice: 0 },
      reserveShareOfSale: 0.035,
      tax: startingFigures.tax,
      rule: { kind: 'average', targetMargin: 0, maxChanceOfLoss: 1 },
    },
    { price: 100_000, costMean: cost.mean },
  )
}

describe('from answers to the margin, whatever is answered', () => {
  it('a bad answer in place of a good one never raises the expected margin', () => {
    fc.assert(
      fc.property(answers, fc.nat(looks.length - 1), (values, at) => {
        const check = looks[at]!
        // Naming a cheap cause may well raise it: the plug is for telling causes apart, not for good and bad.
        fc.pre(check.raises.every((raise) => 'fault' in raise))
        const withAnswer = (key: string) => values.map((value, i) => (i === at ? key : value))
        const good = check.answers.find(({ tone }) => tone === 'good')!
        for (const bad of check.answers.filter(({ tone }) => tone === 'bad')) {
          expect(expectedMargin(withAnswer(bad.key))).toBeLessThanOrEqual(
            expectedMargin(withAnswer(good.key)) + 1e-6,
          )
        }
      }),
    )
  })

  it('chances stay between 0 and 1, and causes share out one whole', () => {
    fc.assert(
      fc.property(answers, (values) => {
        const { faults, proposal } = proposed(values)
        for (const { chance } of [...faults, ...proposal.jobs, ...proposal.groups]) {
          for (const state of careStates) {
            expect(chanceIn(chance, state)).toBeGreaterThanOrEqual(0)
            expect(chanceIn(chance, state)).toBeLessThanOrEqual(1 + 1e-12)
          }
        }
        for (const { causes } of faults.filter((fault) => fault.causes.length > 0)) {
          expect(causes.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12)
        }
      }),
    )
  })

  it('every fault that is there is cured by a job that is in, or left', () => {
    fc.assert(
      fc.property(answers, (values) => {
        const { faults, proposal } = proposed(values)
        const cured = proposal.jobs
          .filter(({ state }) => state === 'in')
          .flatMap((line) => line.faults.map(({ fault }) => fault))
        const left = proposal.left.map(({ fault }) => fault)
        for (const { fault } of faults.filter(({ state }) => state === 'found')) {
          expect([...cured, ...left]).toContain(fault)
        }
      }),
    )
  })

  it('what the shared operations save adds up to what the estimate says is saved', () => {
    fc.assert(
      fc.property(answers, (values) => {
        const { savings, estimate } = workOut({
          catalogue: smallCatalogue,
          kind: anyBike,
          readings: readingsOf(values),
          limits: [],
          decisions: [],
          clearings: [],
          work: noWork,
          ridePapers: { noted: true },
          figures: startingFigures,
          sale: null,
          price: null,
          asOf,
          now,
        })
        const sum = savings.reduce((hours, { hoursSavedMean }) => hours + hoursSavedMean, 0)
        expect(sum).toBeCloseTo(estimate.hoursSavedBySharing.mean, 9)
      }),
      { numRuns: 12 },
    )
  })
})

describe('ranking, whatever the rows', () => {
  const value = fc.option(fc.integer({ min: -3, max: 3 }))
  const row = fc.record({
    ...{ marginMean: value, marginPerBenchHour: value, chanceOfLoss: value },
    ...{ gainFromGoingOn: value, leftAfterKeep: value, daysToSold: value },
  })
  const rows = fc
    .array(row, { maxLength: 8 })
    .map((values) =>
      values.map((rest, viewingNo) => ({ ...rest, viewingNo, id: String(viewingNo) }) as BoardRow),
    )

  it('neither loses a row nor depends on the order given', () => {
    fc.assert(
      fc.property(
        rows.chain((all) => fc.tuple(fc.constant(all), fc.shuffledSubarray(all, { minLength: all.length }))),
        fc.constantFrom(...rankings),
        ([all, shuffled], by) => {
          expect(rank(shuffled, by)).toEqual(rank(all, by))
          expect(new Set(rank(all, by))).toEqual(new Set(all))
        },
      ),
    )
  })
})
