import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { coreVersion } from '../../lib/core/board/version'
import { deal } from '../../lib/core/deal/deal'
import { dealInput } from '../../lib/core/deal/deal.input'
import { changeBike } from '../../lib/shop/change-bike'
import { noteIdentity } from '../../lib/shop/identity'
import { makeOffer } from '../../lib/shop/make-offer'
import { offerSheet, startingSubject, storedSheet } from '../../lib/shop/offer-sheet'
import { recompute } from '../../lib/shop/read-offer'
import { buyBike } from '../../lib/shop/stages'
import { cleared, done, type OpenShop, openTestShop, refused, viewing } from '../support/open-shop'
import { answer, takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop))
})
afterEach(() => shop.dispose())

const stored = () => shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })
const offers = () => shop.store.db.offer.findMany({ orderBy: { at: 'asc' } })
const offered = (over: object = {}) => ({
  bike,
  version: 1,
  price: '900',
  validUntil: '2026-12-02',
  ...over,
})
const offer = (over: object = {}) => makeOffer(offered(over), shop.dealer)

describe('an offer', () => {
  test('is written down with price, day and who made it, and moves the bike on', async () => {
    const { offer: id } = done(await offer())
    const [row] = await offers()
    expect(row).toMatchObject({
      id,
      bikeId: bike,
      priceMinor: 90000,
      validUntil: '2026-12-02',
      coreVersion,
      personId: shop.dealer.who?.personId,
      at: shop.dealer.now,
    })
    expect(await stored()).toMatchObject({ stage: 'offered', version: 2 })
    const last = await shop.store.db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
    expect(last).toMatchObject({ verb: 'offer:make', bikeId: bike })
    expect(JSON.parse(last.body)).toEqual({ priceMinor: 90000, validUntil: '2026-12-02' })
  })

  test('keeps the whole input of its calculation, which gives the same output again whatever changed since', async () => {
    await answer(shop.technician, {
      bike,
      answers: [
        ['intake-boots', 'cracked'],
        ['tank-inside', 'flakes'],
      ],
    })
    done(await offer())
    done(
      await changeBike(
        viewing({ id: bike, version: 2, saleLow: '900', saleLikely: '950', saleHigh: '1000' }),
        shop.dealer,
      ),
    )
    const [row] = await offers()
    const kept = JSON.parse(row!.input)
    // It stands the schema of the calculation, so that it can be put to it from a terminal too.
    expect(dealInput.parse(kept)).toEqual(kept)
    expect(kept.sale).toEqual({ low: 200000, likely: 235000, high: 260000 })
    expect(JSON.parse(JSON.stringify(deal(dealInput.parse(kept))))).toEqual(JSON.parse(row!.output))
    expect(Math.abs(JSON.parse(row!.output).atAsking.expectedMargin)).toBeGreaterThan(0)
  })

  test('is worked out from what is stored at that moment, not from a kept result', async () => {
    done(await offer())
    await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
    done(await offer({ version: 2, price: '850' }))
    const [first, second] = (await offers()).map((row) => JSON.parse(row.input).estimate.jobs)
    const keys = (jobs: { key: string; chance?: unknown }[]) =>
      jobs.filter(({ chance }) => chance === 1).map(({ key }) => key)
    expect(keys(first)).not.toContain('tank-reseal')
    expect(keys(second)).toContain('tank-reseal')
  })

  test('may be made without a sale price: then it rests on no calculation', async () => {
    const bare = await takenIn(shop, { saleLow: '', saleLikely: '', saleHigh: '' })
    done(await offer({ bike: bare.bike }))
    const [row] = await offers()
    expect([row?.input, row?.output]).toEqual(['null', 'null'])
  })

  test('holds to the end of its last day, and none is made for a day that is past', async () => {
    expect(refused(await offer({ validUntil: '2026-11-24' })).fields).toEqual({
      validUntil: 'That day is past. Give today or a later day.',
    })
    done(await offer({ validUntil: '2026-11-25' }))
  })

  test.each([
    ['no price', { price: '' }, 'price'],
    ['a price in words', { price: 'all of it' }, 'price'],
    ['a price below nothing', { price: '-1' }, 'price'],
    ['no day', { validUntil: '' }, 'validUntil'],
    ['no day of the calendar', { validUntil: '2026-13-01' }, 'validUntil'],
  ])('says at the field: %s', async (_what, over, field) => {
    expect(Object.keys(refused(await offer(over)).fields)).toEqual([field])
    expect(await offers()).toEqual([])
  })

  test('is refused from an older version, for a bike that is bought or not there, and to a technician', async () => {
    expect(refused(await offer({ version: 3 })).kind).toBe('stale')
    expect(refused(await offer({ bike: uuidv7() })).kind).toBe('not-found')
    expect(refused(await makeOffer(offered(), shop.technician)).kind).toBe('not-allowed')
    expect(refused(await makeOffer(offered(), shop.nobody)).kind).toBe('not-signed-in')
    await cleared(shop, bike)
    done(await buyBike({ bike, version: 1, price: '900', day: '2026-11-25' }, shop.dealer))
    expect(refused(await offer({ version: 2 })).kind).toBe('rule')
    expect(await offers()).toEqual([])
  })

  test('is worked out at the price that is offered', async () => {
    done(await offer({ price: '90' }))
    const [row] = await offers()
    expect(JSON.parse(row!.input).asking).toBe(9000)
    expect(JSON.parse(row!.output).atAsking.expectedMargin).toBeGreaterThan(0)
  })

  test('is not made on a bike that may never be bought, in plain words', async () => {
    const seen = { id: uuidv7(), bike, point: 'frame-number', answer: 'altered', note: '' }
    done(await noteIdentity(seen, shop.dealer))
    const refusal = refused(await offer())
    expect(refusal.kind).toBe('rule')
    expect(refusal.message).toMatch(/^No offer can be made: this bike may never be bought\. \w/)
    expect(await offers()).toEqual([])
    expect(await stored()).toMatchObject({ stage: 'viewing', version: 1 })
  })
})

describe("the seller's sheet", () => {
  const sheet = async () => storedSheet((await offers()).at(-1)!.sheet)!

  test('is frozen with the offer: found faults and what they cost, what is not checked, what it is subject to', async () => {
    await answer(shop.technician, {
      bike,
      answers: [
        ['intake-boots', 'cracked'],
        ['tank-inside', 'flakes'],
      ],
    })
    done(await offer({ subjectTo: 'Both keys at hand' }))
    const kept = await sheet()
    expect(kept).toMatchObject({
      shop: 'Plover Lane Motorcycles',
      currency: 'GBP',
      day: '2026-11-25',
      bike: { make: 'Calder', model: '600 four', year: 1997, viewingNo: 1 },
      distance: { distance: 31200, unit: 'mi', verdict: 'too few points' },
      offerMinor: 90000,
      validUntil: '2026-12-02',
      subjectTo: 'Both keys at hand',
    })
    const found = kept.faults.map(({ title }) => title)
    expect(found).toContain('Intake boots cracked')
    expect(found).toHaveLength(2)
    const parts = kept.faults.map(({ putRightMinor }) => putRightMinor ?? 0)
    expect(parts.every((part) => part > 0 && part % 1000 === 0)).toBe(true)
    expect(parts.reduce((sum, part) => sum + part, 0)).toBe(kept.putRightMinor)
    const cold = kept.notChecked.find(({ round }) => round === 'cold')!
    expect(cold.titles).not.toContain('Intake boots')
    expect(cold.titles.length).toBeLessThan(cold.applicable)
    const road = kept.notChecked.find(({ round }) => round === 'road')!
    expect(road.titles).toHaveLength(road.applicable)

    await answer(shop.technician, { bike, answers: [['intake-boots', 'whole']] })
    expect(await sheet()).toEqual(kept)
  })

  test('of a bike on which nothing is found counts no work, whatever may hide on it', async () => {
    done(await offer())
    const kept = await sheet()
    expect(kept).toMatchObject({ faults: [], putRightMinor: 0, subjectTo: startingSubject })
    const output = JSON.parse((await offers())[0]!.output)
    expect(output.atAsking.expectedMargin).not.toBe(0)
  })

  test('has no place for anything of the shop’s side', async () => {
    await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
    done(await offer())
    const [row] = await offers()
    const { walkAway, atAsking, atWalkAway } = JSON.parse(row!.output)
    const { rule, sale } = JSON.parse(row!.input)
    const amounts = [walkAway, atAsking.expectedMargin, atWalkAway?.expectedMargin, rule.targetMargin]
    const known = [...amounts, ...(Object.values(sale) as number[])].filter((one) => typeof one === 'number')
    expect(known.length).toBeGreaterThanOrEqual(5)
    for (const minor of known)
      for (const text of [String(minor), String(Math.round(minor / 1000) * 1000)])
        expect(row!.sheet).not.toMatch(new RegExp(`\\b${text}\\b`))
    expect(row!.sheet).not.toMatch(/chance|margin|walk|target|sale"/i)
    for (const key of ['walkAway', 'saleMinor', 'marginMinor', 'targetMinor'])
      expect(offerSheet.safeParse({ ...JSON.parse(row!.sheet), [key]: 1 }).success, key).toBe(false)
  })

  test('of an offer from before sheets were kept is not made up', () => {
    expect(storedSheet('{}')).toBeNull()
  })
})

describe('working an offer out again', () => {
  test('from its stored input alone comes out the same, and without a sale price there is nothing to', async () => {
    done(await offer())
    const bare = await takenIn(shop, { saleLow: '', saleLikely: '', saleHigh: '' })
    done(await offer({ bike: bare.bike }))
    const states = (await offers()).map((row) => recompute(row).state)
    expect(states.sort()).toEqual(['no calculation', 'same'])
  })

  test('of one written by an earlier build comes out to the penny, its spread to a part in ten thousand, and says by which rules it was made', () => {
    const earlier = JSON.parse(readFileSync(join(import.meta.dirname, 'earlier-offer.json'), 'utf8'))
    expect(recompute(earlier)).toEqual({ state: 'same', differing: [], otherRules: '1' })
    const output = JSON.parse(earlier.output)
    const altered = (of: object) => recompute({ ...earlier, output: JSON.stringify({ ...output, ...of }) })
    expect(altered({ walkAway: output.walkAway + 1 })).toMatchObject({ differing: ['walkAway'] })
    const { atAsking } = output
    expect(altered({ atAsking: { ...atAsking, expectedMargin: atAsking.expectedMargin + 1 } })).toMatchObject(
      {
        differing: ['atAsking.expectedMargin'],
      },
    )
    expect(altered({ atAsking: { ...atAsking, chanceOfLoss: atAsking.chanceOfLoss - 0.001 } })).toMatchObject(
      { differing: ['atAsking.chanceOfLoss'] },
    )
  })

  test('of one kept before inputs named all they rest on takes what was meant then', () => {
    // Standing costs, holding and selling costs were nothing where they were left out.
    const bare = {
      sale: 300000,
      estimate: { labourRate: 5000, jobs: [{ key: 'pads', hours: 1 }] },
      tax: { scheme: 'none' },
      rule: { kind: 'average', targetMargin: 50000, maxChanceOfLoss: 0.1 },
      asking: 200000,
    }
    // 3,000 less one hour at 50 less the target of 500; less 2,000 paid it leaves 950.
    const sure = (margin: number) => ({
      expectedMargin: margin,
      chanceOfLoss: 0,
      chanceOfTarget: 1,
      margin: { mean: margin, quantiles: { '0.1': margin, '0.5': margin, '0.9': margin } },
    })
    const output = { walkAway: 245000, atAsking: sure(95000), atWalkAway: sure(50000) }
    const row = { input: JSON.stringify(bare), output: JSON.stringify(output), coreVersion }
    expect(recompute(row)).toEqual({ state: 'same', differing: [], otherRules: null })
  })

  test('tells what differs where what is stored was altered', async () => {
    done(await offer())
    const [row] = await offers()
    const output = JSON.parse(row!.output)
    output.walkAway = (output.walkAway ?? 0) + 100
    output.atAsking.chanceOfLoss += 0.001
    const altered = recompute({ ...row!, output: JSON.stringify(output) })
    expect(altered).toMatchObject({ state: 'differs', differing: ['walkAway', 'atAsking.chanceOfLoss'] })
  })
})
