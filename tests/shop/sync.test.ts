import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { Context } from '../../lib/shop/deed'
import { mostOperations, type SyncOperation, sync, syncInput } from '../../lib/shop/sync'
import { type OpenShop, openTestShop } from '../support/open-shop'
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

  test('by somebody else waits for them, and is done once they are signed in', async () => {
    const theirs = operation(measured(bike, '4.5'))
    const [early] = await send([theirs], shop.dealer)
    expect(early).toMatchObject({ id: theirs.id, ok: false, refusal: { kind: 'not-signed-in' } })
    expect(await values()).toEqual([])
    const [late] = await send([theirs])
    expect(late).toMatchObject({ ok: true })
    const [row] = await shop.store.db.reading.findMany()
    expect(row?.personId).toBe(shop.technician.who?.personId)
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
  ])('is not %s', (_what, make) => {
    expect(syncInput.safeParse(make()).success).toBe(false)
  })
})
