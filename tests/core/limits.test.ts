import { describe, expect, it } from 'vitest'
import type { MeasuredCheck, Source, SourcedBounds } from '../../lib/core/checks/catalogue'
import { type EnteredLimit, effectiveLimit } from '../../lib/core/checks/limits'
import { checkOf } from '../support/small-catalogue'

const disc = checkOf('disc-left') as MeasuredCheck

const from = (kind: Source['kind']): Source => ({ kind, says: `an invented ${kind} figure` })
const figure = (kind: Source['kind'], min: number): SourcedBounds => ({ min, unit: 'mm', source: from(kind) })

let entries = 0
function entered(scope: EnteredLimit['scope'], min: number | null, over: Partial<EnteredLimit> = {}) {
  entries += 1
  const source = scope === 'bike' ? from('stamped') : scope === 'law' ? from('law') : from('maker')
  const none = { position: null, max: null, asNew: null, saleMin: null, saleMax: null }
  const id = `e${String(entries).padStart(4, '0')}`
  return { id, check: disc.key, scope, ...none, min, unit: 'mm', source, ...over } satisfies EnteredLimit
}

function inForce(limit: SourcedBounds | null, list: readonly EnteredLimit[], position: string | null = null) {
  return effectiveLimit({ check: { ...disc, limit }, entered: list, position })
}

describe('which limit a reading is held against', () => {
  const general = ['standard', 'common practice', 'starting value'] as const
  it.each(general)('a %s figure of the catalogue holds while nothing is entered', (kind) => {
    expect(inForce(figure(kind, 5), [])?.min).toMatchObject({ value: 5, scope: 'general', source: { kind } })
  })

  it.each(
    general.flatMap((kind) =>
      (['bike', 'model', 'shop', 'law'] as const).map((scope) => [kind, scope] as const),
    ),
  )('a %s figure gives way to a limit of scope %s, though it is the narrower one', (kind, scope) => {
    expect(inForce(figure(kind, 5), [entered(scope, 4)])?.min).toMatchObject({ value: 4, scope })
  })

  it.each(['maker', 'stamped', 'law'] as const)(
    'a figure of the catalogue that is from the %s is no general one: the narrower of both counts',
    (kind) => {
      expect(inForce(figure(kind, 5), [entered('model', 4)])?.min?.value).toBe(5)
      expect(inForce(figure(kind, 4), [entered('model', 5)])?.min?.value).toBe(5)
    },
  )

  it.each([
    ['bike', [4.5, 4, 4, 1.6]],
    ['model', [4, 4.5, 4, 1.6]],
    ['shop', [4, 4, 4.5, 1.6]],
    ['law', [1, 1, 1, 1.6]],
  ] as const)('the narrowest wins and says where it is from: %s', (scope, [bike, model, shop, law]) => {
    const all = [entered('bike', bike), entered('model', model), entered('shop', shop), entered('law', law)]
    const min = inForce(null, all)?.min
    expect(min?.scope).toBe(scope)
    expect(min?.value).toBe(Math.max(bike, model, shop, law))
  })

  it('of equal bounds the more particular one says where it is from', () => {
    expect(inForce(null, [entered('shop', 4), entered('bike', 4), entered('model', 4)])?.min?.scope).toBe(
      'bike',
    )
  })

  it('the general bound of one side stays where only the other side was entered', () => {
    const both: SourcedBounds = { min: 3, max: 9, unit: 'mm', source: from('common practice') }
    const limit = inForce(both, [entered('model', null, { max: 8 })])
    expect([limit?.min?.value, limit?.min?.scope]).toEqual([3, 'general'])
    expect([limit?.max?.value, limit?.max?.scope]).toEqual([8, 'model'])
  })

  it('a limit for one position holds there and nowhere else', () => {
    const list = [entered('model', 4), entered('bike', 4.5, { position: 'a' })]
    expect(inForce(null, list, 'a')?.min?.value).toBe(4.5)
    expect(inForce(null, list, 'b')?.min?.value).toBe(4)
  })

  it('is told in the unit of the check, whatever it was entered in', () => {
    const limit = inForce(null, [entered('model', 0.2, { unit: 'in' })])
    expect(limit?.unit).toBe('mm')
    expect(limit?.min?.value).toBeCloseTo(5.08, 12)
  })

  it('a limit in a unit of another sort is passed over', () => {
    expect(inForce(null, [entered('model', 12, { unit: 'V' })])).toBeNull()
  })

  it('the sale line of this bike goes before its model’s, and that before the shop’s', () => {
    const shop = entered('shop', null, { saleMin: 4.9 })
    const model = entered('model', 4, { saleMin: 4.6 })
    const bike = entered('bike', 4.5, { saleMin: 4.7 })
    expect(inForce(null, [shop, model, bike])?.saleMin?.value).toBe(4.7)
    expect(inForce(null, [shop, model])?.saleMin?.value).toBe(4.6)
    expect(inForce(null, [shop])).toMatchObject({ min: null, saleMin: { value: 4.9, scope: 'shop' } })
  })

  it('of two entries for one model the narrower counts, and the value as new that leaves less wear', () => {
    const early = entered('model', 4, {
      asNew: 5,
      saleMin: 4.4,
      source: { kind: 'maker', says: '1990 to 1996' },
    })
    const late = entered('model', 4.5, {
      asNew: 5.5,
      saleMin: 4.3,
      source: { kind: 'maker', says: '1995 to 1999' },
    })
    for (const list of [
      [early, late],
      [late, early],
    ]) {
      expect(inForce(null, list)).toMatchObject({
        min: { value: 4.5, source: { says: '1995 to 1999' } },
        saleMin: { value: 4.4 },
        asNew: 5.5,
      })
    }
  })
})
