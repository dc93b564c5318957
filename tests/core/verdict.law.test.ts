import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Verdict, verdict } from '../../lib/core/measure/verdict'
import { type VerdictRawInput, verdictInput } from '../../lib/core/measure/verdict.input'
import { convert } from '../../lib/core/quantity/units'

const judge = (input: VerdictRawInput) => verdict(verdictInput.parse(input))
const hundredths = (from: number, to: number) =>
  fc.integer({ min: from * 100, max: to * 100 }).map((hundredth) => hundredth / 100)

const length = hundredths(0, 10)
const rule = fc.constantFrom('simple' as const, 'guarded' as const)
const judgedOn = fc.constantFrom('lowest' as const, 'highest' as const, 'each' as const, 'mean' as const)
const instrument = fc.record({
  resolution: fc.constantFrom(0, 0.01, 0.05, 0.1),
  unit: fc.constant('mm' as const),
  standardUncertainty: fc.constantFrom(0, 0.004, 0.1),
})
const readings = fc.array(length, { minLength: 1, maxLength: 6 })
const better: Record<Verdict, number> = { outside: 0, 'not-judged': 1, 'too-close': 1, within: 2 }

describe('for all readings and limits', () => {
  it('a higher reading is never judged worse against a least value', () => {
    fc.assert(
      fc.property(length, length, length, instrument, rule, (a, b, min, tool, by) => {
        const at = (reading: number) =>
          judge({
            readings: [reading],
            unit: 'mm',
            limit: { min, unit: 'mm' },
            judgedOn: 'lowest',
            instrument: tool,
            rule: by,
          })
        const [low, high] = [at(Math.min(a, b)), at(Math.max(a, b))]
        expect(better[high.verdict]).toBeGreaterThanOrEqual(better[low.verdict])
        expect(high.conformanceProbability).toBeGreaterThanOrEqual(low.conformanceProbability ?? 0)
      }),
    )
  })

  it('guarded never passes what simple refuses, and they agree on outside', () => {
    fc.assert(
      fc.property(readings, length, length, judgedOn, instrument, (taken, a, b, on, tool) => {
        const by = (which: 'simple' | 'guarded') =>
          judge({
            readings: taken,
            unit: 'mm',
            limit: { min: Math.min(a, b), max: Math.max(a, b), unit: 'mm' },
            judgedOn: on,
            instrument: tool,
            rule: which,
          }).verdict
        expect(by('guarded') === 'outside').toBe(by('simple') === 'outside')
        if (by('guarded') === 'within') expect(by('simple')).toBe('within')
      }),
    )
  })

  it('within by the guarded rule leaves a chance of error of 2.3 % at each bound at the most', () => {
    fc.assert(
      fc.property(readings, length, length, judgedOn, instrument, (taken, a, b, on, tool) => {
        const found = judge({
          readings: taken,
          unit: 'mm',
          limit: { min: Math.min(a, b), max: Math.max(a, b), unit: 'mm' },
          judgedOn: on,
          instrument: tool,
          rule: 'guarded',
        })
        if (found.verdict === 'within') expect(found.conformanceProbability).toBeGreaterThan(1 - 2 * 0.0228)
      }),
    )
  })

  it('the verdict does not depend on the unit it is told in', () => {
    fc.assert(
      fc.property(readings, length, judgedOn, instrument, rule, (taken, min, on, tool, by) => {
        const rest = { judgedOn: on, instrument: tool, rule: by }
        const inMm = judge({ ...rest, readings: taken, unit: 'mm', limit: { min, unit: 'mm' } })
        const inInches = judge({
          ...rest,
          readings: taken.map((reading) => convert(reading, 'mm', 'in')),
          unit: 'in',
          limit: { min, unit: 'mm' },
        })
        expect(inInches.verdict).toBe(inMm.verdict)
        expect(inInches.value).toBeCloseTo(inMm.value, 10)
      }),
    )
  })

  it('the order of the readings changes neither value nor verdict', () => {
    const shuffled = readings.chain((taken) =>
      fc.tuple(fc.constant(taken), fc.shuffledSubarray(taken, { minLength: taken.length })),
    )
    fc.assert(
      fc.property(
        shuffled,
        length,
        fc.constantFrom('lowest' as const, 'highest' as const),
        rule,
        (both, min, on, by) => {
          const [first, second] = both.map((taken) =>
            judge({ readings: taken, unit: 'mm', limit: { min, unit: 'mm' }, judgedOn: on, rule: by }),
          )
          expect(second?.value).toBe(first?.value)
          expect(second?.verdict).toBe(first?.verdict)
        },
      ),
    )
  })
})
