import { afterAll, beforeAll, describe, expect, it, test } from 'vitest'
import { readTyre, tyreAsked } from '../../lib/shop/read-tyres'
import { type OpenShop, openTestShop } from '../support/open-shop'

describe('a tyre read off its side wall', () => {
  let shop: OpenShop
  beforeAll(async () => {
    shop = await openTestShop()
  })
  afterAll(() => shop.dispose())

  const now = new Date('2026-11-25T12:00:00Z')
  const read = (asked: object) => readTyre({ ...shop.manager, now }, tyreAsked.parse(asked))

  it('tells week, age, what the halves would mean the other way round, and the size', async () => {
    const { date, size, ages } = await read({ marking: '110/80-18 58H', code: '0301' })
    expect(date).toMatchObject({
      kind: 'read',
      found: {
        weeks: [{ week: 3, year: 2001, from: '2001-01-21', to: '2001-01-27', ageYears: 25.8 }],
        standing: 'over-guidance',
        swapped: { code: '0103', week: { week: 1, year: 2003, ageYears: 23.9 } },
      },
    })
    expect(size).toMatchObject({ kind: 'read', found: { widthMm: 110 } })
    expect(ages).toEqual({ guidance: 10, saleLine: 8 })
  })

  test.each([
    ['4818', 'within'],
    ['4118', 'over-sale-line'],
    ['4816', 'over-sale-line'],
    ['4116', 'over-guidance'],
    ['031', 'over-guidance'],
  ])('%s is judged by the shop’s own ages: %s', async (code, standing) => {
    const { date } = await read({ code })
    if (date.kind !== 'read') throw new Error('not read')
    expect(date.found.standing).toBe(standing)
  })

  it('says which order cannot be meant, and tells nothing of halves where there are three digits', async () => {
    expect(await read({ code: '4020' })).toMatchObject({
      date: { found: { swapped: { code: '2040', week: null } } },
    })
    expect(await read({ code: '031' })).toMatchObject({
      date: { found: { swapped: null, weeks: [{ year: 1981 }, { year: 1991 }] } },
    })
  })

  it('keeps what was typed and says at its field why it cannot be read, the other field unharmed', async () => {
    const found = await read({ marking: ' 190/50 17 ', code: '0301' })
    expect(found.asked.marking).toBe('190/50 17')
    expect(found.size).toMatchObject({ kind: 'unreadable', hint: expect.stringContaining('hyphen') })
    expect(found.date.kind).toBe('read')
    expect(await read({ code: '9912' })).toMatchObject({
      date: { kind: 'unreadable', hint: expect.stringContaining('1299 would be possible') },
    })
  })

  test.each([[{}], [{ marking: '', code: '  ' }], [{ marking: ['a', 'b'], code: undefined }]])(
    '%j is nothing typed',
    async (asked) => {
      expect(await read(asked)).toMatchObject({ size: { kind: 'empty' }, date: { kind: 'empty' } })
    },
  )

  it('holds the tyre against what the sheet asks for, once both can be read', async () => {
    const { points } = await read({ marking: '110/80-18 58S', sheet: '110/80-18 58H' })
    expect(points.filter(({ stands }) => stands === 'broken').map(({ point }) => point)).toEqual(['speed'])
    expect((await read({ marking: '110/80-18 58S' })).points).toEqual([])
    expect(await read({ marking: '110/80-18 58S', sheet: 'x' })).toMatchObject({
      sheet: { kind: 'unreadable' },
      points: [],
    })
  })

  it('takes the day of the shop’s own zone', async () => {
    expect((await read({})).today).toBe('2026-11-25')
  })
})
