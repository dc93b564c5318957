import fc from 'fast-check'
import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { type Kept, makeOutbox, type Outbox, waitAfter } from '../../app/_ui/outbox/outbox'
import { sendTo } from '../../app/_ui/outbox/send'
import { shelfInMemory } from '../../app/_ui/outbox/shelf'
import { isUnsent, sendingWords } from '../../app/_ui/outbox/words'
import { addPhoto } from '../../lib/shop/add-photo'
import type { Context } from '../../lib/shop/deed'
import { markPhoto } from '../../lib/shop/mark-photo'
import { parseInput } from '../../lib/shop/parse-input'
import { Refusal } from '../../lib/shop/refusal'
import { sync, syncInput } from '../../lib/shop/sync'
import { done, type OpenShop, openTestShop, signedInHere, testNow } from '../support/open-shop'
import { measured, takenIn } from '../support/readings'

/*
 * The tablet's side against the real deeds on a real database; only the network between them is made up. A
 * wait is not waited for: the outbox says that it wants to try again, and the test lets it.
 */

let shop: OpenShop
let bike: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop))
})
afterEach(() => shop.dispose())

/** What the network does with one request. */
type Weather = 'fine' | 'lost-going' | 'lost-coming' | 'busy' | 'signed-out' | 'stranger'

type Tablet = {
  outbox: Outbox
  /** Lets the wait that is under way end; false where none is. */
  goOn(): boolean
  waits: number[]
  requests: number
  /** From then on the server takes no photo. */
  refusesPhotos: boolean
}

function tablet(weather: () => Weather, as: () => Context = () => shop.technician): Tablet {
  let pending: (() => void) | null = null
  const made: Tablet = {
    waits: [],
    requests: 0,
    refusesPhotos: false,
    goOn() {
      const then = pending
      pending = null
      then?.()
      return then !== null
    },
    outbox: makeOutbox({
      shelf: shelfInMemory(),
      send: sendTo(async (path, init) => {
        made.requests += 1
        if (made.refusesPhotos && path.startsWith('/api/v1/photos')) return refusal('malformed', 422)
        const now = weather()
        if (now === 'lost-going') throw new TypeError('Failed to fetch')
        if (now === 'busy') return new Response('', { status: 503, headers: { 'retry-after': '7' } })
        if (now === 'stranger') return new Response('<html>Pay for the wifi first</html>', { status: 200 })
        if (now === 'signed-out') return refusal('not-signed-in', 401)
        const response = await serve(String(init.body), as())
        if (now === 'lost-coming') throw new TypeError('Failed to fetch')
        return response
      }),
      later: (milliseconds, then) => {
        made.waits.push(milliseconds)
        pending = then
        return () => {
          pending = null
        }
      },
      chance: () => 0,
    }),
  }
  return made
}

async function serve(body: string, context: Context): Promise<Response> {
  try {
    const input = parseInput(syncInput, JSON.parse(body))
    const answers = await sync(input, { ...context, who: context.who! })
    return Response.json({ ok: true, answers, serverTime: context.now.toISOString() })
  } catch (error) {
    if (error instanceof Refusal) return Response.json({ ok: false, refusal: error.plain }, { status: 422 })
    throw error
  }
}

const refusal = (kind: string, status: number) =>
  Response.json({ ok: false, refusal: { kind, message: 'Sign in to go on.', fields: {} } }, { status })

function reading(value: string, over: Partial<Extract<Kept, { to: 'sync' }>> = {}): Kept {
  const body = measured(bike, value)
  const author = shop.technician.who!.personId
  return {
    id: body.id,
    author,
    to: 'sync',
    deed: 'record-reading',
    body,
    label: 'Pads',
    typed: value,
    ...over,
  }
}

/** Until nothing is under way any more: sent, refused, or waiting for its turn. */
function settled({ outbox }: Tablet): Promise<void> {
  const quiet = () => outbox.state().entries.every(({ state }) => state !== 'sending')
  return new Promise((resolve) => {
    const look = () => {
      // One turn of the loop, so that what a finished request starts next has started.
      setImmediate(() => {
        if (!quiet()) return
        stop()
        resolve()
      })
    }
    const stop = outbox.subscribe(look)
    look()
  })
}

const states = ({ outbox }: Tablet) => outbox.state().entries.map(({ state }) => state)
const values = async () =>
  (await shop.store.db.reading.findMany({ orderBy: { seq: 'asc' } })).map(({ value }) => value)
const me = () => shop.technician.who!.personId
const words = ({ outbox }: Tablet) => sendingWords(outbox.state())

/** Waits for the shelf, which answers in its own time, then until all is quiet. */
async function begin(one: Tablet, person = me()): Promise<void> {
  one.outbox.setPerson(person)
  await settled(one)
}

describe('the outbox', () => {
  test('sends what is put into it, in order, and says sent only once the server has said so', async () => {
    const one = tablet(() => 'fine')
    await begin(one)
    for (const value of ['4.5', '4.4', '4.6']) one.outbox.add(reading(value))
    expect(words(one)).toBe('Sending 3 readings …')
    await settled(one)
    expect(states(one)).toEqual(['sent', 'sent', 'sent'])
    expect(words(one)).toBe('All sent.')
    expect(await values()).toEqual(['4.5', '4.4', '4.6'])
  })

  test('without a network keeps everything, says so, and sends it when it can', async () => {
    let weather: Weather = 'lost-going'
    const one = tablet(() => weather)
    await begin(one)
    one.outbox.add(reading('4.5'))
    await settled(one)
    one.outbox.add(reading('4.4'))
    await settled(one)
    expect(states(one)).toEqual(['waiting', 'waiting'])
    expect(words(one)).toBe(
      'No network: 2 readings only on this page. Sent by itself once there is one. This browser keeps nothing more: leave this page open until then.',
    )
    weather = 'fine'
    await one.outbox.sendNow()
    expect(await values()).toEqual(['4.5', '4.4'])
    expect(one.goOn()).toBe(false)
  })

  test('whose answer was lost on the way is sent again and is there once', async () => {
    const weathers: Weather[] = ['lost-coming', 'lost-coming', 'fine']
    const one = tablet(() => weathers.shift() ?? 'fine')
    await begin(one)
    one.outbox.add(reading('4.5'))
    await settled(one)
    while (one.goOn()) await settled(one)
    expect(states(one)).toEqual(['sent'])
    expect(await values()).toEqual(['4.5'])
    expect(one.requests).toBe(3)
  })

  test.each([
    ['busy', /does not answer properly/],
    ['signed-out', /You are signed out: 1 reading only on this page, not sent/],
    ['stranger', /does not answer properly/],
  ] as [Weather, RegExp][])('keeps everything where the answer is: %s', async (weather, says) => {
    const weathers = [weather]
    const one = tablet(() => weathers.shift() ?? 'fine')
    await begin(one)
    one.outbox.add(reading('4.5'))
    await settled(one)
    expect(states(one)).toEqual(['waiting'])
    expect(words(one)).toMatch(says)
    while (one.goOn()) await settled(one)
    expect(states(one)).toEqual(['sent'])
    expect(await values()).toEqual(['4.5'])
  })

  test('takes no photo as sent on the word of somebody who is not our server', async () => {
    const one = tablet(() => 'stranger')
    const facts = { bike, check: 'fuel-leaks', takenAt: '2026-11-25T11:58:00Z' }
    const id = uuidv7()
    one.outbox.add({
      id,
      author: me(),
      to: 'photos',
      facts,
      bytes: new Blob(['x']),
      label: 'Photo',
      typed: '1 kB',
    })
    await begin(one)
    expect(states(one)).toEqual(['waiting'])
  })

  test('waits longer after each failure, and at least as long as the server asks', async () => {
    const weathers: Weather[] = ['lost-going', 'lost-going', 'lost-going', 'busy', 'fine']
    const one = tablet(() => weathers.shift() ?? 'fine')
    await begin(one)
    one.outbox.add(reading('4.5'))
    await settled(one)
    while (one.goOn()) await settled(one)
    expect(one.waits).toEqual([1000, 2000, 4000, 8000])
    expect(waitAfter(1, 0.999)).toBeGreaterThan(700)
    expect(waitAfter(50, 0)).toBe(30_000)
  })

  test('sets aside what is refused for good with what was typed, and sends the rest', async () => {
    const one = tablet(() => 'fine')
    await begin(one)
    one.outbox.add(reading('45'))
    one.outbox.add(reading('4.5'))
    await settled(one)
    expect(states(one)).toEqual(['refused', 'sent'])
    const [refused] = one.outbox.state().entries
    expect(refused).toMatchObject({ kept: { typed: '45' }, refused: { fields: { value: /45 mm/ } } })
    expect(await values()).toEqual(['4.5'])
    one.outbox.forget([refused!.kept.id])
    expect(states(one)).toEqual(['sent'])
  })

  test.each([
    ['in one request', true],
    ['one after the other', false],
  ])('lets go of what would take back a reading that was refused, sent %s', async (_how, together) => {
    const one = tablet(() => 'fine')
    await begin(one)
    const wrong = reading('45')
    const body = measured(bike, 'Taken back at once', { kind: 'withdrawn', unit: null, supersedes: wrong.id })
    const back = reading('back', { id: body.id, body, takesBack: wrong.id })
    one.outbox.add(wrong)
    if (!together) await settled(one)
    one.outbox.add(back)
    one.outbox.add(reading('4.5'))
    await settled(one)
    expect(one.outbox.state().entries.map(({ kept, state }) => [kept.typed, state])).toEqual([
      ['45', 'refused'],
      ['4.5', 'sent'],
    ])
    expect(await values()).toEqual(['4.5'])
  })

  describe('with drawings on photos', () => {
    const arrow = { kind: 'arrow', fromX: 0.2, fromY: 0.2, toX: 0.5, toY: 0.5 } as const
    const circle = { kind: 'circle', x: 0.25, y: 0.5, radius: 0.1 } as const

    async function onServer(): Promise<string> {
      const bytes = await sharp({ create: { width: 8, height: 8, channels: 3, background: '#806040' } })
        .png()
        .toBuffer()
      const facts = { id: uuidv7(), bike, check: 'fuel-leaks', takenAt: '2026-11-25T11:58:00Z', bytes }
      return done(await addPhoto(facts, shop.technician)).photo
    }

    function drawn(photo: string, marks: readonly object[], over: Partial<Kept> & { version: number }): Kept {
      const { version, ...rest } = over
      const body = { photo, version, marks }
      const said = { label: 'Drawn', typed: `${marks.length} drawn`, restsOn: [photo] }
      return { id: uuidv7(), author: me(), to: 'sync', deed: 'mark-photo', body, ...said, ...rest } as Kept
    }

    const marksOf = async (photo: string) => {
      const row = await shop.store.db.photo.findUniqueOrThrow({ where: { id: photo } })
      return JSON.parse(row.marks) as unknown
    }
    const typed = ({ outbox }: Tablet) =>
      outbox.state().entries.map((entry) => [entry.kept.typed, entry.state])

    test('sends one after the other, each in a request of its own, and all else past them', async () => {
      const one = tablet(() => 'fine')
      const photo = await onServer()
      const first = drawn(photo, [arrow], { version: 1 })
      one.outbox.add(first)
      one.outbox.add(drawn(photo, [arrow, circle], { version: 2, restsOn: [photo, first.id] }))
      one.outbox.add(reading('4.5'))
      await begin(one)
      expect(states(one)).toEqual(['sent', 'sent', 'sent'])
      expect(one.requests).toBe(2)
      expect(await marksOf(photo)).toEqual([arrow, circle])
    })

    test('puts nothing over what somebody else drew meanwhile, however much was drawn here', async () => {
      const one = tablet(() => 'fine')
      const photo = await onServer()
      done(await markPhoto({ photo, version: 1, marks: [circle] }, shop.dealer))
      const first = drawn(photo, [arrow], { version: 1 })
      one.outbox.add(first)
      // By its version alone the second would be taken: the dealer's drawing made it 2.
      one.outbox.add(drawn(photo, [arrow, arrow], { version: 2, restsOn: [photo, first.id] }))
      one.outbox.add(reading('4.5'))
      await begin(one)
      expect(typed(one)).toEqual([
        ['1 drawn', 'refused'],
        ['2 drawn', 'refused'],
        ['4.5', 'sent'],
      ])
      expect(one.outbox.state().entries[1]).toMatchObject({
        refused: { message: expect.stringMatching(/changed/i) },
      })
      expect(await marksOf(photo)).toEqual([circle])
    })

    test('lets go of what is drawn on a photo that was refused', async () => {
      const one = tablet(() => 'lost-going')
      const photo = uuidv7()
      const facts = { bike, check: 'fuel-leaks', takenAt: '2026-11-25T11:58:00Z' }
      const said = { label: 'Photo', typed: '1 kB' }
      one.outbox.add({ id: photo, author: me(), to: 'photos', facts, bytes: new Blob(['x']), ...said })
      const first = drawn(photo, [arrow], { version: 1 })
      one.outbox.add(first)
      one.outbox.add(drawn(photo, [], { version: 2, restsOn: [photo, first.id] }))
      await begin(one)
      expect(typed(one).map(([, state]) => state)).toEqual(['waiting', 'waiting', 'waiting'])
      expect(words(one)).toMatch(/1 photo, 2 drawings on photos/)
      one.refusesPhotos = true
      one.goOn()
      await settled(one)
      expect(typed(one)).toEqual([['1 kB', 'refused']])
    })

    test('lets go of what is drawn on a photo that is taken back', async () => {
      const one = tablet(() => 'lost-going')
      await begin(one)
      const photo = uuidv7()
      one.outbox.add(drawn(photo, [arrow], { version: 1 }))
      const body = { photo, because: 'Undone at once' }
      one.outbox.add(reading('back', { id: uuidv7(), deed: 'take-back-photo', body, takesBack: photo }))
      await settled(one)
      expect(typed(one)).toEqual([['back', 'waiting']])
    })

    test('holds one back that rests on what waits for its author', async () => {
      await signedInHere(shop.dealer)
      const dealer = shop.dealer.who!.personId
      const one = tablet(() => 'fine')
      const photo = await onServer()
      const said = { asking: 145_000, saleLow: 200_000, saleLikely: 235_000, saleHigh: 260_000 }
      const body = { bike, ...said, asking: '1300', was: said }
      one.outbox.add(reading('1300', { id: uuidv7(), author: dealer, deed: 'say-prices', body }))
      const theirs = drawn(photo, [circle], { version: 1, author: dealer })
      one.outbox.add(theirs)
      one.outbox.add(drawn(photo, [arrow], { version: 2, restsOn: [photo, theirs.id] }))
      await begin(one)
      expect(states(one)).toEqual(['waiting', 'waiting', 'waiting'])
      expect(words(one)).toMatch(/^1 price, 2 drawings on photos of somebody else/)
    })
  })

  test('finds the one to blame where a request is refused as a whole', async () => {
    const one = tablet(() => 'fine')
    one.outbox.add(reading('4.5'))
    one.outbox.add(reading('4.4', { deed: 'paint-it-red' }))
    one.outbox.add(reading('4.6'))
    await begin(one)
    expect(states(one)).toEqual(['sent', 'refused', 'sent'])
    expect(await values()).toEqual(['4.5', '4.6'])
  })

  test('sends what another person left here, under the name of whoever recorded it', async () => {
    await signedInHere(shop.technician)
    const one = tablet(
      () => 'fine',
      () => shop.dealer,
    )
    one.outbox.add(reading('4.5'))
    await begin(one, shop.dealer.who!.personId)
    expect(states(one)).toEqual(['sent'])
    const [row] = await shop.store.db.reading.findMany()
    expect(row?.personId).toBe(me())
  })

  test('keeps for its author what not everybody may do, and all that may rest on it, and sends the rest', async () => {
    await signedInHere(shop.dealer)
    const dealer = shop.dealer.who!.personId
    let now = shop.technician
    const one = tablet(
      () => 'fine',
      () => now,
    )
    await begin(one)
    const said = { asking: 145_000, saleLow: 200_000, saleLikely: 235_000, saleHigh: 260_000 }
    const body = { bike, ...said, asking: '1300', was: said }
    one.outbox.add(reading('1300', { id: uuidv7(), author: dealer, deed: 'say-prices', body }))
    one.outbox.add(reading('4.1', { author: dealer }))
    one.outbox.add(reading('4.2'))
    await settled(one)
    await one.outbox.sendNow()
    await settled(one)
    expect(states(one)).toEqual(['waiting', 'waiting', 'sent'])
    expect(await values()).toEqual(['4.2'])
    expect(words(one)).toBe(
      '1 price, 1 reading of somebody else only on this page: sent once they sign in here.',
    )
    now = shop.dealer
    await begin(one, dealer)
    await one.outbox.sendNow()
    await settled(one)
    expect(states(one)).toEqual(['sent', 'sent', 'sent'])
    expect(words(one)).toBe('All sent.')
  })

  test('sets aside what a stranger to this device left here, and sends the rest', async () => {
    const one = tablet(
      () => 'fine',
      () => shop.dealer,
    )
    one.outbox.add(reading('4.5'))
    one.outbox.add(reading('4.4', { author: shop.dealer.who!.personId }))
    await begin(one, shop.dealer.who!.personId)
    expect(states(one)).toEqual(['refused', 'sent'])
    expect(await values()).toEqual(['4.4'])
  })

  test('tells the server how far its clock is off, and hears it', async () => {
    const one = tablet(() => 'fine')
    await begin(one)
    one.outbox.add(reading('4.5'))
    await settled(one)
    const { heard } = one.outbox.state()
    const device = await shop.store.db.device.findUniqueOrThrow({ where: { id: shop.deviceId } })
    expect(device).toMatchObject({ clockAheadMs: heard?.clockAheadMs, waiting: 0, lastSyncAt: testNow })
  })

  test('forgets nothing that is not sent', async () => {
    const one = tablet(() => 'lost-going')
    await begin(one)
    const kept = reading('4.5')
    one.outbox.add(kept)
    await settled(one)
    one.outbox.forget([kept.id])
    expect(states(one)).toEqual(['waiting'])
  })

  test('whatever the network does, each reading arrives once and in order', async () => {
    const weather = fc.constantFrom<Weather>(
      'fine',
      'lost-going',
      'lost-coming',
      'busy',
      'signed-out',
      'stranger',
    )
    await fc.assert(
      fc.asyncProperty(
        fc.array(weather, { maxLength: 12 }),
        fc.array(fc.boolean(), { minLength: 1, maxLength: 6 }),
        async (weathers, pauses) => {
          const before = await values()
          const rest = [...weathers]
          const one = tablet(() => rest.shift() ?? 'fine')
          await begin(one)
          const sent = pauses.map((_, index) => `${(before.length + index) / 1000}`)
          for (const [index, pause] of pauses.entries()) {
            one.outbox.add(reading(sent[index]!))
            if (pause) await settled(one)
          }
          await settled(one)
          while (one.goOn()) await settled(one)
          expect(one.outbox.state().entries.some(isUnsent)).toBe(false)
          expect(await values()).toEqual([...before, ...sent])
        },
      ),
      { numRuns: 25 },
    )
  })
})
