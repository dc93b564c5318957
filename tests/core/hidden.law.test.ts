import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { careSigns } from '../../lib/catalogue/care-signs'
import { reweighed } from '../../lib/core/checks/care-signs'
import { careStates } from '../../lib/core/checks/catalogue'
import { type CareChances, meanChance, timesOdds } from '../../lib/core/checks/chance'
import { learnedFrom, posteriorMean } from '../../lib/core/checks/learned'

const unit = fc.double({ min: 0.001, max: 0.999, noNaN: true })
const factor = fc.double({ min: 0.01, max: 100, noNaN: true })
const byState = fc.record({ kept: unit, average: unit, neglected: unit })
const care = byState.map((weights): CareChances => {
  const total = careStates.reduce((sum, state) => sum + weights[state], 0)
  return {
    kept: weights.kept / total,
    average: weights.average / total,
    neglected: weights.neglected / total,
  }
})
const counted = fc
  .tuple(fc.integer({ min: 1, max: 400 }), fc.double({ min: 0, max: 1, noNaN: true }))
  .map(([looked, share]) => ({ looked, found: Math.round(looked * share) }))
const runs = { numRuns: 200, endOnFailure: true }

describe('odds', () => {
  it('keep a chance a chance, and it grows with their factor', () => {
    fc.assert(
      fc.property(unit, factor, factor, (q, a, b) => {
        const at = (k: number) => timesOdds(q, k) as number
        expect(at(a)).toBeGreaterThan(0)
        expect(at(a)).toBeLessThan(1)
        if (a < b) expect(at(a)).toBeLessThanOrEqual(at(b))
        expect(timesOdds(at(a), 1 / a)).toBeCloseTo(q, 9)
        expect(timesOdds(at(a), b)).toBeCloseTo(at(a * b), 9)
      }),
      runs,
    )
  })
})

describe('the tell-tales of care', () => {
  const sign = fc.constantFrom(
    ...careSigns.flatMap(({ likelihood }) => Object.values(likelihood).map((of) => ({ likelihood: of }))),
  )

  it('sum to 1 and do not depend on their order', () => {
    fc.assert(
      fc.property(care, fc.array(sign, { maxLength: 4 }), (before, signs) => {
        const after = reweighed(before, signs)
        expect(careStates.reduce((sum, state) => sum + after[state], 0)).toBeCloseTo(1, 9)
        const turned = reweighed(before, [...signs].reverse())
        const oneByOne = signs.reduce((now, one) => reweighed(now, [one]), before)
        for (const state of careStates) {
          expect(turned[state]).toBeCloseTo(after[state], 9)
          expect(oneByOne[state]).toBeCloseTo(after[state], 9)
        }
      }),
      runs,
    )
  })

  it('move to well kept by the good answer and to neglected by each bad one', () => {
    fc.assert(
      fc.property(care, fc.constantFrom(...careSigns), (before, { likelihood }) => {
        const [good, ...bad] = Object.values(likelihood)
        const better = reweighed(before, [{ likelihood: good! }])
        expect(better.kept).toBeGreaterThan(before.kept)
        expect(better.neglected).toBeLessThan(before.neglected)
        for (const one of bad) {
          const worse = reweighed(before, [{ likelihood: one }])
          expect(worse.kept).toBeLessThan(before.kept)
          expect(worse.neglected).toBeGreaterThan(before.neglected)
        }
      }),
      runs,
    )
  })
})

describe('what a shop learns', () => {
  it('lies between the starting chance and the share it found', () => {
    fc.assert(
      fc.property(unit, factor, counted, (mean, weight, { found, looked }) => {
        const after = posteriorMean({ mean, weight, found, looked })
        const share = found / looked
        expect(after).toBeGreaterThanOrEqual(Math.min(mean, share) - 1e-12)
        expect(after).toBeLessThanOrEqual(Math.max(mean, share) + 1e-12)
      }),
      runs,
    )
  })

  it('is reached by one factor on the odds of all care states', () => {
    fc.assert(
      fc.property(byState, care, factor, counted, (chance, of, priorBikes, count) => {
        const { before, after, factor: k } = learnedFrom({ chance, care: of, priorBikes, counted: count })
        expect(before).toBeCloseTo(meanChance(chance, of), 12)
        expect(meanChance(timesOdds(chance, k), of)).toBeCloseTo(after, 9)
        if (after > before + 1e-9) expect(k).toBeGreaterThan(1)
        if (after < before - 1e-9) expect(k).toBeLessThan(1)
      }),
      runs,
    )
  })

  it('is the same whether bikes come at once or one after another', () => {
    fc.assert(
      fc.property(unit, factor, counted, counted, (mean, weight, a, b) => {
        const first = posteriorMean({ mean, weight, ...a })
        const second = posteriorMean({ mean: first, weight: weight + a.looked, ...b })
        const together = { found: a.found + b.found, looked: a.looked + b.looked }
        expect(second).toBeCloseTo(posteriorMean({ mean, weight, ...together }), 12)
      }),
      runs,
    )
  })
})
