import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { sentForAnybody } from '../../app/_ui/outbox/outbox'
import { addPhoto } from '../../lib/shop/add-photo'
import type { Context } from '../../lib/shop/deed'
import { markPhoto } from '../../lib/shop/mark-photo'
import { readSheet } from '../../lib/shop/read-sheet'
import { mostOperations, type SyncOperation, sync, syncDeeds, syncInput } from '../../lib/shop/sync'
import { takeBackPhoto } from '../../lib/shop/take-back-photo'
import { mayDo, type PersonVerb } from '../../lib/shop/who-may'
import { done, type OpenShop, openTestShop, signedInHere } from '../support/open-shop'
import { look, measured, takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop))
})
afterEach(() => shop.dispose())

const signedIn = (context: Context) => ({ ...context, who: context.who! })
const send = (operations: SyncOperation[], as: Context = shop.technician) =>
  sync({ operations }, signedIn(as))
const operation = (body: object, over: Partial<SyncOperation> = {}): SyncOperation => ({
  id: uuidv7(),
  author: shop.technician.who!.personId,
  deed: 'record-reading',
  body,
  ...over,
})
const otherDevice = () => '0199c0de-0000-7000-8000-00000000000d'
/** What a tablet of the present build sends, by a clock that is so far ahead. */
const sentAhead = (operations: SyncOperation[], ahead: number, as: Context = shop.technician) =>
  sync(
    {
      contract: 2,
      sentAt: new Date(as.now.getTime() + ahead).toISOString(),
      waiting: operations.length,
      operations,
    },
    signedIn(as),
  )
const values = async () =>
  (await shop.store.db.reading.findMany({ orderBy: { seq: 'asc' } })).map(({ value }) => value)

describe('what a tablet sends', () => {
  test('is done in the order it was recorded, and each is answered under its own id', async () => {
    const operations = ['4.5', '4.4', '4.6'].map((value) => operation(measured(bike, value)))
    const answers = await send(operations)
    expect(answers.map(({ id, ok }) => [id, ok])).toEqual(operations.map(({ id }) => [id, true]))
    expect(await values()).toEqual(['4.5', '4.4', '4.6'])
  })

  test('may be a limit followed by what is judged by it', async () => {
    const limit = { id: uuidv7(), bike, check: 'disc-rear', source: 'stamped', min: 4.5, unit: 'mm' }
    const answers = await send([
      operation(limit, { deed: 'set-bike-limit' }),
      operation(look(bike, ['fuel-leaks', 'dry'])),
    ])
    expect(answers.map(({ ok }) => ok)).toEqual([true, true])
    expect(await shop.store.db.limit.count()).toBe(1)
  })

  test('sent twice is done once and answered alike', async () => {
    const operations = [operation(measured(bike, '4.5')), operation(look(bike, ['fuel-leaks', 'dry']))]
    const first = await send(operations)
    const events = await shop.store.db.event.count()
    expect(await send(operations)).toEqual(first)
    expect(await send([operations[1]!, operations[0]!])).toEqual([first[1], first[0]])
    expect(await values()).toEqual(['4.5', 'dry'])
    expect(await shop.store.db.event.count()).toBe(events)
  })

  test('sent twice at the same moment is done once', async () => {
    const one = operation(measured(bike, '4.5'))
    const [first, second] = await Promise.all([send([one]), send([one])])
    expect(second).toEqual(first)
    expect(await values()).toEqual(['4.5'])
  })

  test('with the id of another and other content is refused', async () => {
    const one = operation(measured(bike, '4.5'))
    await send([one])
    const [answer] = await send([{ ...one, body: measured(bike, '3.5') }])
    expect(answer).toMatchObject({ ok: false, refusal: { kind: 'malformed' } })
    expect(await values()).toEqual(['4.5'])
  })

  describe('as drawings on a photo', () => {
    const arrow = { kind: 'arrow', fromX: 0.2, fromY: 0.2, toX: 0.5, toY: 0.5 } as const
    const circle = { kind: 'circle', x: 0.25, y: 0.5, radius: 0.1 } as const
    let photo: string
    beforeEach(async () => {
      const bytes = await sharp({ create: { width: 8, height: 8, channels: 3, background: '#806040' } })
        .png()
        .toBuffer()
      const facts = { id: uuidv7(), bike, check: 'fuel-leaks', takenAt: '2026-11-25T11:58:00Z', bytes }
      ;({ photo } = done(await addPhoto(facts, shop.technician)))
    })
    const drawn = (version: number, marks: readonly object[], over: Partial<SyncOperation> = {}) =>
      operation({ photo, version, marks }, { deed: 'mark-photo', ...over })
    const row = async () => {
      const { marks, version } = await shop.store.db.photo.findUniqueOrThrow({ where: { id: photo } })
      return { marks: JSON.parse(marks) as unknown, version }
    }

    test('are done in their order, and sent twice once', async () => {
      const operations = [drawn(1, [arrow]), drawn(2, [arrow, circle])]
      const first = await sentAhead(operations, 0)
      expect(first.map(({ ok }) => ok)).toEqual([true, true])
      expect(await sentAhead(operations, 0)).toEqual(first)
      expect(await row()).toEqual({ marks: [arrow, circle], version: 3 })
      expect(await shop.store.db.event.count({ where: { verb: 'photo:mark' } })).toBe(2)
    })

    test('go in for somebody else who was signed in here', async () => {
      await signedInHere(shop.technician)
      expect(await send([drawn(1, [circle])], shop.dealer)).toMatchObject([{ ok: true }])
      const event = await shop.store.db.event.findFirst({ orderBy: { seq: 'desc' } })
      expect(event).toMatchObject({ verb: 'photo:mark', personId: shop.technician.who!.personId })
      expect(JSON.parse(event!.body)).toMatchObject({ sentBy: shop.dealer.who!.personId })
    })

    test('are refused where somebody else has drawn since, and where the photo was taken back', async () => {
      done(await markPhoto({ photo, version: 1, marks: [circle] }, shop.dealer))
      expect(await send([drawn(1, [arrow])])).toMatchObject([{ ok: false, refusal: { kind: 'stale' } }])
      expect(await row()).toEqual({ marks: [circle], version: 2 })
      done(await takeBackPhoto({ photo, because: 'Of another bike' }, shop.technician))
      expect(await send([drawn(3, [arrow])])).toMatchObject([{ ok: false, refusal: { kind: 'not-found' } }])
    })
  })

  test('by somebody who was signed in on this device goes in under that name, and says who sent it', async () => {
    await signedInHere(shop.technician)
    const theirs = operation(measured(bike, '4.5'))
    const [answer] = await send([theirs], shop.dealer)
    expect(answer).toMatchObject({ id: theirs.id, ok: true })
    const [author, sender] = [shop.technician.who!.personId, shop.dealer.who!.personId]
    const { db } = shop.store
    expect(await db.reading.findFirst()).toMatchObject({ personId: author })
    const event = await db.event.findFirst({ orderBy: { seq: 'desc' } })
    expect(event).toMatchObject({ verb: 'reading:add', personId: author })
    expect(JSON.parse(event!.body)).toMatchObject({ sentBy: sender })
    expect(await db.operation.findFirst()).toMatchObject({
      id: theirs.id,
      authorId: author,
      sentById: sender,
      deviceId: shop.deviceId,
      contract: 1,
    })
    expect(await send([theirs])).toEqual([answer])
  })

  test('of what not everybody may do waits for its author, and is done with nobody else’s leave', async () => {
    await signedInHere(shop.dealer)
    await signedInHere(shop.manager)
    const author = shop.dealer.who!.personId
    const said = { asking: 145_000, saleLow: 200_000, saleLikely: 235_000, saleHigh: 260_000 }
    const price = {
      id: uuidv7(),
      author,
      deed: 'say-prices' as const,
      body: { bike, ...said, asking: '1', was: said },
    }
    expect(await send([price])).toMatchObject([{ ok: false, refusal: { kind: 'not-signed-in' } }])
    // A manager may take back what another read; nobody may by sending it under a manager's name.
    const read = measured(bike, '4.5')
    await send([operation(read, { author })], shop.dealer)
    const back = { ...measured(bike, 'Not so'), kind: 'withdrawn', supersedes: read.id }
    const forged = operation(back, { author: shop.manager.who!.personId })
    expect(await send([forged])).toMatchObject([{ ok: false, refusal: { kind: 'not-allowed' } }])
    expect(await shop.store.db.event.count({ where: { verb: 'bike:change' } })).toBe(0)
    expect(await send([price], shop.dealer)).toMatchObject([{ ok: true }])
  })

  test('goes in for another exactly where everybody may do it, as the tablet knows', () => {
    const forAll = Object.entries(syncDeeds).filter(([, { verb }]) =>
      (['technician', 'dealer', 'manager'] as const).every((role) => mayDo([role], verb as PersonVerb)),
    )
    expect(forAll.map(([name]) => name).sort()).toEqual([...sentForAnybody].sort())
  })

  test.each<[string, () => Promise<unknown>]>([
    ['was never signed in here', async () => {}],
    ['was signed in on another device only', () => signedInHere(shop.technician, otherDevice())],
    [
      'has left',
      async () => {
        await signedInHere(shop.technician)
        const id = shop.technician.who!.personId
        await shop.store.db.person.update({ where: { id }, data: { leftAt: shop.technician.now } })
      },
    ],
  ])('by somebody who %s is refused, and nothing of it is kept', async (_who, before) => {
    await shop.store.db.device.create({
      data: { id: otherDevice(), name: 'other', tokenHash: 'other', enrolledAt: shop.manager.now },
    })
    await before()
    const [answer] = await send([operation(measured(bike, '4.5'))], shop.dealer)
    expect(answer).toMatchObject({ ok: false, refusal: { kind: 'not-allowed' } })
    expect(await values()).toEqual([])
    expect(await shop.store.db.operation.count()).toBe(0)
  })

  test('and is refused does not stop what comes after it', async () => {
    const wrong = operation(measured(bike, '45'))
    const answers = await send([
      operation(measured(bike, '4.5')),
      wrong,
      operation(measured(uuidv7(), '4.5')),
      operation(look(bike, ['fuel-leaks', 'dry'])),
    ])
    expect(answers.map(({ ok }) => ok)).toEqual([true, false, false, true])
    expect(answers[1]).toMatchObject({
      id: wrong.id,
      refusal: { fields: { value: expect.stringMatching(/45 mm/) } },
    })
    expect(await values()).toEqual(['4.5', 'dry'])
  })

  test('and was refused can be put right under the same id of the reading', async () => {
    const reading = measured(bike, '45')
    await send([operation(reading)])
    const [answer] = await send([operation({ ...reading, value: '4.5' })])
    expect(answer).toMatchObject({ ok: true })
  })

  test('corrects a reading of the same sending', async () => {
    const slip = measured(bike, '5.4')
    const right = measured(bike, '4.5', { supersedes: slip.id })
    const answers = await send([operation(slip), operation(right)])
    expect(answers.map(({ ok }) => ok)).toEqual([true, true])
  })
})

describe('a clock that is off', () => {
  const day = 24 * 3600 * 1000
  /** Taken so long before now, by a clock that is so far ahead. */
  const takenAt = (before: number, ahead: number) =>
    new Date(shop.technician.now.getTime() - before + ahead).toISOString()

  test.each([
    ['three days ahead', 3 * day],
    ['three days behind', -3 * day],
    ['twenty minutes ahead', 20 * 60_000],
  ])('and is %s is put right, kept beside the reading, and told of the device', async (_how, ahead) => {
    const body = measured(bike, '4.5', { takenAt: takenAt(3_600_000, ahead) })
    await sentAhead([operation(body)], ahead)
    const { db } = shop.store
    expect(await db.reading.findFirst()).toMatchObject({
      takenAt: new Date('2026-11-25T11:00:00Z'),
      clockAheadMs: ahead,
    })
    expect(await db.device.findUnique({ where: { id: shop.deviceId } })).toMatchObject({
      lastSyncAt: shop.technician.now,
      clockAheadMs: ahead,
      waiting: 0,
    })
  })

  test('by a minute is left as it is', async () => {
    await sentAhead([operation(measured(bike, '4.5', { takenAt: takenAt(3_600_000, 0) }))], 60_000)
    expect(await shop.store.db.reading.findFirst()).toMatchObject({
      takenAt: new Date('2026-11-25T11:00:00Z'),
      clockAheadMs: null,
    })
  })

  test('by days on one tablet lets the answer that was given last count', async () => {
    await send([operation(look(bike, ['fuel-leaks', 'wet'], { takenAt: takenAt(2 * 3_600_000, 0) }))])
    const dry = look(bike, ['fuel-leaks', 'dry'], { takenAt: takenAt(3_600_000, -3 * day) })
    await sentAhead([operation(dry)], -3 * day)
    expect(await counting()).toBe('dry')
  })

  test('and was set right between two looks turns their order round nowhere', async () => {
    const wet = look(bike, ['fuel-leaks', 'wet'], { takenAt: takenAt(3_600_000, 0) })
    const dry = look(bike, ['fuel-leaks', 'dry'], { takenAt: takenAt(1_800_000, -3 * day) })
    await sentAhead([operation(wet), operation(dry)], 0)
    expect(await counting()).toBe('dry')
  })

  async function counting() {
    const { viewingNo } = await shop.store.db.bike.findFirstOrThrow()
    const sheet = await readSheet(signedIn(shop.technician), viewingNo)
    const { judgement } = sheet.rounds
      .flatMap(({ checks }) => checks)
      .find(({ check }) => check.key === 'fuel-leaks')!
    return 'found' in judgement && judgement.found?.sort === 'look' ? judgement.found.answer.key : null
  }
})

describe('the shape of a sending', () => {
  const good = () => ({ operations: [operation(measured(bike, '4.5'))] })

  test('is one or more operations', () => {
    expect(syncInput.safeParse(good()).success).toBe(true)
  })

  test.each([
    ['nothing', () => ({ operations: [] })],
    ['more than fit', () => ({ operations: Array(mostOperations + 1).fill(good().operations[0]) })],
    [
      'a deed that no tablet may send',
      () => ({ operations: [{ ...good().operations[0], deed: 'buy-bike' }] }),
    ],
    ['no author', () => ({ operations: [{ ...good().operations[0], author: undefined }] })],
    ['an id that is none', () => ({ operations: [{ ...good().operations[0], id: '1' }] })],
    ['something beside', () => ({ operations: [{ ...good().operations[0], role: 'manager' }] })],
    ['no list', () => good().operations[0]],
    ['of a contract without the hour of its sending', () => ({ ...good(), contract: 2 })],
    ['of a contract that nobody knows', () => ({ ...good(), contract: 3 })],
  ])('is not %s', (_what, make) => {
    expect(syncInput.safeParse(make()).success).toBe(false)
  })
})
