import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { MeasuredCheck, Source, SourcedBounds } from '../../lib/core/checks/catalogue'
import { type EnteredLimit, effectiveLimit, limitScopes } from '../../lib/core/checks/limits'
import { checkOf } from '../support/small-catalogue'

const disc = checkOf('disc-left') as MeasuredCheck

const figure = fc.option(
  fc.integer({ min: 300, max: 700 }).map((hundredths) => hundredths / 100),
  { nil: null },
)
const entry = fc.record({
  check: fc.constant(disc.key),
  scope: fc.constantFrom(...limitScopes),
  position: fc.constantFrom(null, 'a', 'b'),
  min: figure,
  max: figure,
  asNew: figure,
  saleMin: figure,
  saleMax: figure,
  unit: fc.constant('mm' as const),
  source: fc.record({
    kind: fc.constantFrom<Source['kind'][]>('maker', 'stamped', 'law', 'standard', 'common practice'),
    says: fc.constantFrom('page 1', 'page 2', 'page 3'),
  }),
})
type Entry = Omit<EnteredLimit, 'id'>
const entries = fc.array(entry, { maxLength: 6 })
const position = fc.constantFrom(null, 'a', 'b', 'c')

const general = fc.record({
  min: fc.integer({ min: 300, max: 700 }).map((hundredths) => hundredths / 100),
  max: fc.integer({ min: 300, max: 700 }).map((hundredths) => hundredths / 100),
  unit: fc.constant('mm' as const),
  source: fc.record({
    kind: fc.constantFrom<Source['kind'][]>('standard', 'common practice', 'starting value'),
    says: fc.constant('for every bike'),
  }),
})

/** Numbered in the order they are entered, as the ids of the store are. */
const enter = (list: readonly Entry[]): EnteredLimit[] =>
  list.map((one, index) => ({ ...one, id: `e${String(index).padStart(3, '0')}` }))

function inForce(list: readonly Entry[], at: string | null, limit: SourcedBounds | null = null) {
  return effectiveLimit({ check: { ...disc, limit }, entered: enter(list), position: at })
}

describe('the limit that counts, whatever is entered', () => {
  it('is the same in any order of entry, with its source, sale line and value as new', () => {
    const shuffled = entries.chain((list) =>
      fc.tuple(fc.constant(list), fc.shuffledSubarray(list, { minLength: list.length })),
    )
    fc.assert(
      fc.property(shuffled, position, fc.option(general, { nil: null }), ([list, other], at, figures) => {
        expect(inForce(other, at, figures)).toEqual(inForce(list, at, figures))
      }),
    )
  })

  it('is never a general figure where a stamped, model or shop-wide limit says something on that side', () => {
    fc.assert(
      fc.property(entries, position, general, (list, at, figures) => {
        const limit = inForce(list, at, figures)
        for (const side of ['min', 'max'] as const) {
          const said = list.some(
            (one) => one[side] !== null && (one.position === null || one.position === at),
          )
          expect(limit?.[side]?.scope === 'general').toBe(!said)
        }
      }),
    )
  })

  it('a general figure, whichever it is, changes nothing on a side that somebody entered', () => {
    fc.assert(
      fc.property(entries, position, general, (list, at, figures) => {
        const [without, withIt] = [inForce(list, at), inForce(list, at, figures)]
        for (const side of ['min', 'max'] as const) {
          if (without?.[side]) expect(withIt?.[side]).toEqual(without[side])
        }
      }),
    )
  })

  it('is never widened by one more entry', () => {
    fc.assert(
      fc.property(entries, entry, position, (list, more, at) => {
        const [before, after] = [inForce(list, at), inForce([...list, more], at)]
        if (before?.min) expect(after?.min?.value).toBeGreaterThanOrEqual(before.min.value)
        if (before?.max) expect(after?.max?.value).toBeLessThanOrEqual(before.max.value)
      }),
    )
  })

  it('is one of those that were entered, with the source that was named with it', () => {
    fc.assert(
      fc.property(entries, position, (list, at) => {
        const limit = inForce(list, at)
        for (const side of ['min', 'max'] as const) {
          const bound = limit?.[side]
          if (!bound) continue
          expect(list).toContainEqual(
            expect.objectContaining({ scope: bound.scope, source: bound.source, [side]: bound.value }),
          )
        }
      }),
    )
  })
})
