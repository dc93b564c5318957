import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { checkChain } from '../../lib/data/events'
import { readToWorkOut } from '../../lib/shop/facts'
import { finishJob } from '../../lib/shop/job-runs'
import { readBench } from '../../lib/shop/read-bench'
import { readStory } from '../../lib/shop/read-story'
import { readWork } from '../../lib/shop/read-work'
import { notePart, noteSpend, priceSpend, takeBackPart, takeBackSpend } from '../../lib/shop/spends'
import { stages } from '../../lib/shop/stage-names'
import { begin, onTheBench } from '../support/on-the-bench'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
let viewingNo: number
let run: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await onTheBench(shop))
  run = await begin(shop, { bike })
})
afterEach(() => shop.dispose())

const part = (over: object = {}) => ({
  ...{ id: uuidv7(), bike, run, what: 'Front pads', number: 'TY-104', qty: '2', ...over },
})
const spend = (over: object = {}) => ({ ...part(), kind: 'part', amount: '38.50', ...over })
const spent = async (who = shop.dealer) => (await readWork(who, String(viewingNo))).spent
const forGood = async () =>
  (await readToWorkOut(shop.store.db, { bikeId: bike, now: shop.dealer.now })).input.spentMinor
const bench = async (who = shop.technician) => readBench({ ...who, who: who.who! }, String(viewingNo))

describe('what was spent', () => {
  test('is summed over parts and outside work, with the minutes at the bench beside it', async () => {
    done(await noteSpend(spend(), shop.dealer))
    const bill = { kind: 'outside', what: 'Rim trued', number: '', qty: '', run: '', amount: '45' }
    done(await noteSpend(spend(bill), shop.manager))
    expect(await spent(shop.at(shop.dealer, '2026-11-25T12:20:00Z'))).toMatchObject({
      sumMinor: 8350,
      unpriced: 0,
      minutes: 20,
      isOwned: true,
      lines: [
        {
          ...{ kind: 'part', what: 'Front pads', number: 'TY-104', qty: 2, amountMinor: 3850 },
          ...{ job: expect.stringContaining('ads'), underWay: true, who: 'Dele' },
        },
        { kind: 'outside', what: 'Rim trued', qty: 1, amountMinor: 4500, job: null, underWay: false },
      ],
    })
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test('is in the margin once the work is done, with its hours, and never twice', async () => {
    done(await noteSpend(spend(), shop.dealer))
    done(await noteSpend(spend({ run: '', amount: '10' }), shop.dealer))
    // Under way the pads are still in the estimate, the rest is not.
    expect(await forGood()).toBe(1000)
    done(await finishJob({ run, version: 1, minutes: '90' }, shop.technician))
    expect(await forGood()).toBe(1000 + 3850 + 7800)
    const { jobs, doneJobs } = await readWork(shop.dealer, String(viewingNo))
    expect(doneJobs.map(({ key }) => key)).toEqual(['front-pads'])
    expect(jobs.filter(({ key }) => key === 'front-pads')).toEqual([])
  })

  test('is set right by another price, and counts no more when it is taken back with a reason', async () => {
    const one = spend()
    done(await noteSpend(one, shop.dealer))
    done(await priceSpend({ spend: one.id, version: 1, amount: '41' }, shop.manager))
    expect(await spent()).toMatchObject({ sumMinor: 4100 })
    const back = { spend: one.id, version: 2, reason: 'Sent back to the shop it came from' }
    done(await takeBackSpend(back, shop.dealer))
    expect(await spent()).toMatchObject({ sumMinor: 0, lines: [] })
    expect(refused(await takeBackSpend({ ...back, version: 3 }, shop.dealer)).message).toContain('already')
    expect(refused(await priceSpend({ ...one, spend: one.id, version: 3 }, shop.dealer)).kind).toBe(
      'malformed',
    )
    expect(refused(await priceSpend({ spend: one.id, version: 3, amount: '1' }, shop.dealer)).kind).toBe(
      'rule',
    )
    expect(await shop.store.db.spend.count()).toBe(1)
  })

  test.each(stages)('is noted only on a bike of the shop’s own: %s', async (stage) => {
    await shop.store.db.bike.update({ where: { id: bike }, data: { stage } })
    const isOwn = !['viewing', 'offered', 'sold', 'passed up'].includes(stage)
    expect((await noteSpend(spend(), shop.dealer)).ok).toBe(isOwn)
    expect((await notePart(part(), shop.technician)).ok).toBe(isOwn)
    expect(await spent()).toMatchObject({ isOwned: isOwn, lines: { length: isOwn ? 2 : 0 } })
  })

  test('is for work on that bike, and written once', async () => {
    const other = await onTheBench(shop)
    expect(refused(await noteSpend(spend({ bike: other.bike }), shop.dealer)).message).toBe(
      'That work is not there.',
    )
    const one = spend()
    done(await noteSpend(one, shop.dealer))
    expect(refused(await noteSpend(one, shop.dealer)).message).toContain('already')
    expect(refused(await notePart(part({ id: one.id }), shop.technician)).message).toContain('already')
    expect(await shop.store.db.spend.count()).toBe(1)
  })

  test.each([
    ['no amount', { amount: '' }, 'amount'],
    ['an amount below nothing', { amount: '-5' }, 'amount'],
    ['nothing said', { what: ' ' }, 'what'],
    ['none of it', { qty: '0' }, 'qty'],
    ['a kind that is none', { kind: 'lunch' }, 'kind'],
  ])('says at the field: %s', async (_what, over, field) => {
    expect(Object.keys(refused(await noteSpend(spend(over), shop.dealer)).fields)).toEqual([field])
    expect(await shop.store.db.spend.count()).toBe(0)
  })
})

describe('a part noted at the bench', () => {
  test('stands with the work it went into, without money, and waits for its price where money is seen', async () => {
    const one = part()
    done(await notePart(one, shop.technician))
    const used = { what: 'Front pads', number: 'TY-104', qty: 2, who: 'Tove' }
    expect((await bench()).underWay[0]?.used).toMatchObject([used])
    expect(await spent()).toMatchObject({ sumMinor: 0, unpriced: 1, lines: [{ amountMinor: null }] })
    done(await priceSpend({ spend: one.id, version: 1, amount: '38.50' }, shop.dealer))
    expect(await spent()).toMatchObject({ sumMinor: 3850, unpriced: 0 })
    done(await finishJob({ run, version: 1 }, shop.technician))
    const seen = await bench()
    expect(seen.ended[0]?.used).toMatchObject([used])
    expect(JSON.stringify(seen)).not.toMatch(/3850|38\.5|minor|amount|price|spend/i)
  })

  test('is taken back by whoever sees the slip, until it is priced', async () => {
    const [slip, kept] = [part(), part()]
    for (const one of [slip, kept]) done(await notePart(one, shop.technician))
    done(await takeBackPart({ spend: slip.id, version: 1 }, shop.technician))
    expect((await bench()).underWay[0]?.used).toHaveLength(1)
    done(await priceSpend({ spend: kept.id, version: 1, amount: '38.50' }, shop.dealer))
    expect(refused(await takeBackPart({ spend: kept.id, version: 2 }, shop.technician)).message).toBe(
      'This is in the books by now. A dealer or manager takes it back.',
    )
    const paid = spend()
    done(await noteSpend(paid, shop.dealer))
    expect(refused(await takeBackPart({ spend: paid.id, version: 1 }, shop.technician)).kind).toBe('rule')
  })

  test('never shows the bench what was noted where money is seen', async () => {
    done(await noteSpend(spend({ what: 'Pads, 38.50 at the counter' }), shop.dealer))
    expect((await bench()).underWay[0]?.used).toEqual([])
  })
})

describe('the story', () => {
  const told = async (who = shop.dealer) => {
    const asked = { kind: null, order: 'oldest', behind: null } as const
    const story = await readStory({ ...who, who: who.who! }, { viewingNo: String(viewingNo), asked })
    return story.entries.slice(2)
  }

  test('tells what was spent, priced and taken back with its amounts, to who may see money', async () => {
    const [first, bill] = [
      part(),
      spend({ kind: 'outside', what: 'Rim trued', number: '', qty: '1', run: '' }),
    ]
    done(await notePart(first, shop.technician))
    done(await priceSpend({ spend: first.id, version: 1, amount: '40' }, shop.dealer))
    done(await noteSpend(bill, shop.dealer))
    const back = { spend: bill.id, version: 1, reason: 'Billed twice' }
    done(await takeBackSpend(back, shop.dealer))
    expect((await told()).map(({ says, amounts }) => [says, amounts])).toEqual([
      [expect.stringMatching(/^Part used for ".*ads.*": Front pads × 2, number TY-104\.$/), []],
      ['Priced: Front pads.', [{ label: 'Now', minor: 4000 }]],
      ['Spent on outside work: Rim trued.', [{ label: 'Spent', minor: 3850 }]],
      ['What was spent is taken back: Rim trued. Billed twice.', [{ label: 'Spent', minor: 3850 }]],
    ])
    expect((await told(shop.technician)).map(({ says }) => says)).toEqual([
      expect.stringMatching(/^Part used/),
    ])
  })
})

test('nothing is spent on a bike that is only looked at', async () => {
  const { bike: viewed } = await takenIn(shop)
  expect(refused(await noteSpend(spend({ bike: viewed, run: '' }), shop.dealer)).message).toBe(
    'Only on a bike that is the shop’s own. This one is not.',
  )
})
