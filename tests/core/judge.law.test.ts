import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { MeasuredCheck } from '../../lib/core/checks/catalogue'
import { type Judgement, judge, type VerdictWord } from '../../lib/core/checks/judge'
import type { Reading } from '../../lib/core/checks/reading'
import { convert } from '../../lib/core/quantity/units'
import { anyBike, calliper, checkOf, micrometer } from '../support/small-catalogue'
import { ages, asOf, reading, stamped } from '../support/small-readings'

const limits = [stamped('disc-left', 4.5, { saleMin: 4.7 })]

function judged(readings: readonly Reading[]): Judgement {
  return judge({ check: checkOf('disc-left'), readings, limits, kind: anyBike, asOf, ages })
}

const thickness = fc.integer({ min: 400, max: 520 }).map((hundredths) => hundredths / 100)
const instrument = fc.constantFrom(calliper, micrometer)
const fourPlaces = fc.tuple(thickness, thickness, thickness, thickness)

const disc = fc
  .array(fc.record({ value: thickness, position: fc.constantFrom('a', 'b', 'c', 'd', null), instrument }), {
    maxLength: 8,
  })
  .map((taken) =>
    taken.map(({ value, position, instrument }) => reading('disc-left', value, { position, instrument })),
  )

/** From worst to best. */
const order: readonly VerdictWord[] = ['outside', 'too-close', 'not-judged', 'within']

describe('verdicts, whatever is read', () => {
  it('a thinner disc never gets a better verdict', () => {
    fc.assert(
      fc.property(
        fourPlaces,
        fc.nat(3),
        fc.integer({ min: 1, max: 60 }),
        instrument,
        (values, at, less, tool) => {
          const taken = (of: readonly number[]) =>
            of.map((value, i) => reading('disc-left', value, { position: 'abcd'[i]!, instrument: tool }))
          const thinner = values.map((value, i) => (i === at ? value - less / 100 : value))
          const rank = (of: readonly number[]) => order.indexOf(judged(taken(of)).verdict)
          expect(rank(thinner)).toBeLessThanOrEqual(rank(values))
        },
      ),
    )
  })

  it('the order in which readings arrive does not matter', () => {
    fc.assert(
      fc.property(
        disc.chain((taken) =>
          fc.tuple(fc.constant(taken), fc.shuffledSubarray(taken, { minLength: taken.length })),
        ),
        ([taken, shuffled]) => {
          expect(judged(shuffled)).toEqual(judged(taken))
        },
      ),
    )
  })

  it('a corrected reading is as if only the correction had been taken', () => {
    fc.assert(
      fc.property(disc, thickness, instrument, (taken, value, tool) => {
        fc.pre(taken.length > 0)
        const wrong = taken[0]!
        const right = reading('disc-left', value, {
          position: wrong.position,
          instrument: tool,
          supersedes: wrong.id,
        })
        const only = { ...right, supersedes: null }
        expect(judged([...taken, right])).toEqual(judged([...taken.slice(1), only]))
      }),
    )
  })

  it('the same reading again changes no verdict', () => {
    fc.assert(
      fc.property(disc, (taken) => {
        const again = taken
          .filter(({ position }) => position !== null)
          .map((one) =>
            reading('disc-left', one.value, { position: one.position, instrument: one.instrument }),
          )
        expect(judged([...taken, ...again]).verdict).toBe(judged(taken).verdict)
      }),
    )
  })

  it('a mean of readings in several units stands in the unit of the check, between the least and the most', () => {
    const typed = fc.record({ value: thickness, unit: fc.constantFrom('mm' as const, 'in' as const) })
    fc.assert(
      fc.property(fc.array(typed, { minLength: 1, maxLength: 6 }), instrument, (taken, tool) => {
        const readings = taken.map(({ value, unit }) =>
          reading('disc-left', convert(value, 'mm', unit), { position: 'a', instrument: tool, unit }),
        )
        const one = judged(readings)
        const found = 'found' in one && one.found?.sort === 'measured' ? one.found : null
        const values = taken.map(({ value }) => value)
        expect(found?.unit).toBe('mm')
        expect(found?.limit?.unit).toBe('mm')
        expect(found?.value).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9)
        expect(found?.value).toBeLessThanOrEqual(Math.max(...values) + 1e-9)
      }),
    )
  })

  it('further past a highest bound never gets a better verdict', () => {
    const highest = [stamped('disc-left', 4, { min: null, max: 4.6 })]
    const check = { ...(checkOf('disc-left') as MeasuredCheck), judgedOn: 'highest' as const }
    fc.assert(
      fc.property(
        fourPlaces,
        fc.nat(3),
        fc.integer({ min: 1, max: 60 }),
        instrument,
        (values, at, more, tool) => {
          const rank = (of: readonly number[]) => {
            const readings = of.map((value, i) =>
              reading('disc-left', value, { position: 'abcd'[i]!, instrument: tool }),
            )
            return order.indexOf(
              judge({ check, readings, limits: highest, kind: anyBike, asOf, ages }).verdict,
            )
          }
          const longer = values.map((value, i) => (i === at ? value + more / 100 : value))
          expect(rank(longer)).toBeLessThanOrEqual(rank(values))
        },
      ),
    )
  })

  it('fewer than all places are never within', () => {
    fc.assert(
      fc.property(disc, (taken) => {
        const places = new Set(taken.map(({ position }) => position).filter((position) => position !== null))
        fc.pre(places.size < 4)
        expect(judged(taken).verdict).not.toBe('within')
      }),
    )
  })
})
