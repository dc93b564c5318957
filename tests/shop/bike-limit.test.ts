import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { checkChain } from '../../lib/data/events'
import { setBikeLimit, withdrawBikeLimit } from '../../lib/shop/bike-limit'
import { readSheet } from '../../lib/shop/read-sheet'
import { recordReading } from '../../lib/shop/record-reading'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { measured, takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await takenIn(shop))
})
afterEach(() => shop.dispose())

const stamped = (over: object = {}) => ({
  id: uuidv7(),
  bike,
  check: 'disc-front-left',
  source: 'stamped',
  min: '4.5',
  max: '',
  asNew: '5',
  unit: 'mm',
  ...over,
})

async function judged(check = 'disc-front-left') {
  const sheet = await readSheet({ ...shop.technician, who: shop.technician.who! }, viewingNo)
  return sheet.rounds.flatMap(({ checks }) => checks).find((row) => row.check.key === check)!
}

/** Four readings round the disc. */
async function measureDisc(value: string, check = 'disc-front-left') {
  for (const position of ['a', 'b', 'c', 'd']) {
    done(
      await recordReading(
        measured(bike, value, { check, position, instrument: 'micrometer' }),
        shop.technician,
      ),
    )
  }
}

describe('a limit for one bike', () => {
  test('judges what nothing could be judged by before', async () => {
    await measureDisc('4.62')
    expect((await judged()).judgement).toMatchObject({ verdict: 'not-judged', why: 'no-limit' })
    expect((await judged()).limits[0]?.words).toBeNull()
    done(await setBikeLimit(stamped(), shop.technician))
    const row = await judged()
    expect(row.judgement.verdict).toBe('within')
    expect(row.limits[0]).toMatchObject({ words: 'at least 4.5 mm', sources: [{ kind: 'stamped' }] })
  })

  test('finds a disc under it to be outside', async () => {
    await measureDisc('4.31')
    done(await setBikeLimit(stamped(), shop.technician))
    expect((await judged()).judgement.verdict).toBe('outside')
  })

  test('holds for this bike and this check only', async () => {
    done(await setBikeLimit(stamped(), shop.technician))
    expect((await judged('disc-front-right')).limits[0]?.words).toBeNull()
    const other = await takenIn(shop)
    const sheet = await readSheet({ ...shop.technician, who: shop.technician.who! }, other.viewingNo)
    const rows = sheet.rounds.flatMap(({ checks }) => checks)
    expect(rows.find((row) => row.check.key === 'disc-front-left')?.limits[0]?.words).toBeNull()
  })

  test('takes the place of an earlier one, which stays in the record', async () => {
    done(await setBikeLimit(stamped(), shop.technician))
    done(await setBikeLimit(stamped({ min: '4.0' }), shop.technician))
    expect((await judged()).limits.map(({ words }) => words)).toEqual(['at least 4 mm'])
    const rows = await shop.store.db.limit.findMany({ orderBy: { id: 'asc' } })
    expect(rows.map(({ min, withdrawnAt }) => [min, withdrawnAt === null])).toEqual([
      [4.5, false],
      [4, true],
    ])
  })

  test('may hold for one position only', async () => {
    done(await setBikeLimit(stamped({ position: 'b' }), shop.technician))
    const { limits } = await judged()
    expect(limits.map(({ at, words }) => [at, words])).toEqual([
      [['In line with the valve', 'Half a turn on', 'Three quarters on'], null],
      [['A quarter turn on'], 'at least 4.5 mm'],
    ])
  })

  test('can be taken back, once', async () => {
    const set = stamped()
    done(await setBikeLimit(set, shop.technician))
    done(await withdrawBikeLimit({ limit: set.id, version: 1 }, shop.technician))
    expect((await judged()).limits[0]?.words).toBeNull()
    const again = await withdrawBikeLimit({ limit: set.id, version: 1 }, shop.technician)
    expect(refused(again).kind).toBe('stale')
  })

  test('writes its event into the chain', async () => {
    done(await setBikeLimit(stamped(), shop.technician))
    const last = await shop.store.db.event.findFirst({ orderBy: { seq: 'desc' } })
    expect(last).toMatchObject({ verb: 'limit:set-for-bike', bikeId: bike })
    expect(JSON.parse(last?.body ?? '')).toMatchObject({
      check: 'disc-front-left',
      min: 4.5,
      source: 'stamped',
    })
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test('is for people who are signed in, and for bikes that are there', async () => {
    expect(refused(await setBikeLimit(stamped(), shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await setBikeLimit(stamped({ bike: uuidv7() }), shop.technician)).kind).toBe('not-found')
    expect(await shop.store.db.limit.count()).toBe(0)
  })

  const malformed: [string, object, string][] = [
    ['no figure at all', { min: '', max: '' }, 'min'],
    ['a figure in words', { min: 'thin' }, 'min'],
    ['a lowest above the highest', { min: '5', max: '4' }, 'max'],
    ['no unit', { unit: '' }, 'unit'],
    ['a unit of something else', { unit: 'V' }, 'unit'],
    ['no source', { source: 'hearsay' }, 'source'],
    ['a position the check does not have', { position: 'left-inner' }, 'position'],
  ]
  test.each(malformed)('%s is refused at its field', async (_what, over, field) => {
    const refusal = refused(await setBikeLimit(stamped(over), shop.technician))
    expect(refusal.kind).toBe('malformed')
    expect(refusal.fields).toHaveProperty(field)
    expect(await shop.store.db.limit.count()).toBe(0)
  })

  test('is refused where no reading could be it: a comma typed for a point', async () => {
    const { fields } = refused(await setBikeLimit(stamped({ min: '4500' }), shop.technician))
    expect(fields.min).toMatch(/No reading of this check can be that/)
  })

  test('is refused for a check that is not measured', async () => {
    expect(refused(await setBikeLimit(stamped({ check: 'fuel-leaks' }), shop.technician)).kind).toBe(
      'malformed',
    )
  })
})
