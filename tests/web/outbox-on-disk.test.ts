import 'fake-indexeddb/auto'
import { IDBFactory } from 'fake-indexeddb'
import fc from 'fast-check'
import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { afterAll, beforeAll, beforeEach, describe, expect, test, vi } from 'vitest'
import { type Entry, type Kept, makeOutbox, type Outbox } from '../../app/_ui/outbox/outbox'
import { sendTo } from '../../app/_ui/outbox/send'
import type { Shelf } from '../../app/_ui/outbox/shelf'
import { shelfOnDisk } from '../../app/_ui/outbox/shelf-on-disk'
import { sendingWords, stateWords } from '../../app/_ui/outbox/words'
import { openTabletStore, type TabletStore } from '../../app/_ui/tablet-store'
import { addPhoto } from '../../lib/shop/add-photo'
import { parseInput } from '../../lib/shop/parse-input'
import { photoContext, sync, syncInput } from '../../lib/shop/sync'
import { type OpenShop, openTestShop } from '../support/open-shop'
import { measured, takenIn } from '../support/readings'

/*
 * One device with any number of tabs that are killed and opened again, over a database that keeps what it was given
 * as a browser's does. The deeds and their store are the real ones; between them is a network that does what the
 * test says.
 */

let shop: OpenShop
let bike: string
beforeAll(async () => {
  shop = await openTestShop()
  ;({ bike } = await takenIn(shop))
})
afterAll(() => shop.dispose())

type Weather = 'fine' | 'lost-going' | 'lost-coming' | 'busy' | 'signed-out'

let device: Device
beforeEach(() => {
  globalThis.indexedDB = new IDBFactory()
  device = new Device()
})

/** What lies in the browser, and what the tabs of one device share. */
class Device {
  weather: () => Weather = () => 'fine'
  tabs: Tab[] = []
  private turn: Promise<void> = Promise.resolve()
  private listeners = new Map<Tab, () => void>()

  open(person = me()): Tab {
    const tab = new Tab(this)
    this.tabs.push(tab)
    tab.outbox.setPerson(person)
    return tab
  }

  kill(tab: Tab): void {
    tab.dies()
    this.tabs = this.tabs.filter((one) => one !== tab)
    this.listeners.delete(tab)
  }

  hear(tab: Tab, listener: () => void): void {
    this.listeners.set(tab, listener)
  }

  tell(by: Tab): void {
    for (const [tab, listener] of this.listeners) if (tab !== by) listener()
  }

  /** A tab that is killed gives its turn to the next. */
  inTurn(tab: Tab, work: () => Promise<void>): Promise<void> {
    const mine = this.turn.then(() => Promise.race([tab.death, work()]))
    this.turn = mine.catch(() => {})
    return mine
  }

  /** Until no tab has anything under way: what waits, waits for its time. */
  async quiet(): Promise<void> {
    for (let still = 0; still < 4; ) {
      await new Promise((resolve) => setImmediate(resolve))
      still = this.tabs.every((tab) => tab.underWay === 0) ? still + 1 : 0
    }
  }

  /** What a person who waits long enough sees. */
  async untilSent(): Promise<void> {
    for (;;) {
      await this.quiet()
      if (!this.tabs.some((tab) => tab.goOn())) return
    }
  }

  async onDisk(): Promise<Map<string, string>> {
    const store = await openTabletStore()
    const rows = await store.getAll('outbox')
    store.close()
    return new Map(rows.map(({ id, state }) => [id, state]))
  }
}

class Tab {
  underWay = 0
  outbox: Outbox
  dies: () => void = () => {}
  death = new Promise<void>((resolve) => {
    this.dies = resolve
  })
  private dead = false
  private pending: (() => void) | null = null
  private store: Promise<TabletStore> | null = null

  constructor(private of: Device) {
    void this.death.then(() => {
      this.dead = true
      void this.store?.then((store) => store.close()).catch(() => {})
    })
    const disk = shelfOnDisk({
      open: () => {
        this.store ??= openTabletStore()
        return this.store
      },
      tell: () => of.tell(this),
      hear: (listener) => of.hear(this, listener),
      clock: () => 0,
    })
    const send = sendTo((path, init) => this.ask(path, init))
    this.outbox = makeOutbox({
      shelf: watched(disk, (work) => this.during(work)),
      send: (batch, waiting) => this.during(send(batch, waiting)),
      later: (_milliseconds, then) => {
        this.pending = then
        return () => {
          this.pending = null
        }
      },
      chance: () => 0,
      inTurn: (work) => of.inTurn(this, work),
    })
  }

  /** Lets the wait that is under way end; false where none is. */
  goOn(): boolean {
    const then = this.pending
    this.pending = null
    then?.()
    return then !== null
  }

  /** A dead tab hears of nothing any more, whatever was under way. */
  private async during<T>(work: Promise<T>): Promise<T> {
    this.underWay += 1
    try {
      const done = await work
      if (this.dead) return new Promise(() => {})
      return done
    } finally {
      this.underWay -= 1
    }
  }

  private async ask(path: string, init: RequestInit): Promise<Response> {
    const now = this.of.weather()
    if (now === 'lost-going') throw new TypeError('Failed to fetch')
    if (now === 'busy') return new Response('', { status: 503 })
    if (now === 'signed-out') return new Response('{"refusal":{"kind":"not-signed-in"}}', { status: 401 })
    const context = { ...shop.technician, who: shop.technician.who! }
    const answer = path.startsWith('/api/v1/photos?')
      ? await takePhoto(path, init.body as Blob)
      : { ok: true, answers: await sync(parseInput(syncInput, JSON.parse(String(init.body))), context) }
    if (now === 'lost-coming') throw new TypeError('Failed to fetch')
    return Response.json(answer, { status: answer.ok ? 200 : 422 })
  }
}

function watched(shelf: Shelf, during: <T>(work: Promise<T>) => Promise<T>): Shelf {
  return {
    load: () => during(shelf.load()),
    keep: (one) => during(shelf.keep(one)),
    bytes: (id) => during(shelf.bytes(id)),
    sent: (ids) => during(shelf.sent(ids)),
    refuse: (id, refused) => during(shelf.refuse(id, refused)),
    drop: (ids) => during(shelf.drop(ids)),
    dropSentBefore: (instant) => during(shelf.dropSentBefore(instant)),
    onChange: (listener) => shelf.onChange(listener),
  }
}

const me = () => shop.technician.who!.personId

function reading(value: string): Kept {
  const body = measured(bike, value)
  return {
    id: body.id,
    author: me(),
    to: 'sync',
    deed: 'record-reading',
    body,
    label: 'Pads',
    typed: value,
  }
}

async function takePhoto(path: string, body: Blob) {
  const told = Object.fromEntries(new URL(path, 'http://here').searchParams)
  const technician = { ...shop.technician, who: shop.technician.who! }
  const { facts, context } = await photoContext(told, technician)
  return addPhoto({ ...facts, bytes: new Uint8Array(await body.arrayBuffer()) }, context)
}

async function photo(): Promise<Kept> {
  const facts = { bike, check: 'fuel-leaks', takenAt: '2026-11-25T11:58:00Z' }
  const picture = await sharp({ create: { width: 40, height: 30, channels: 3, background: '#7a3b1d' } })
    .jpeg()
    .toBuffer()
  const bytes = new Blob([new Uint8Array(picture)], { type: 'image/jpeg' })
  return { id: uuidv7(), author: me(), to: 'photos', facts, bytes, label: 'Photo', typed: '1 kB' }
}

const bytesOf = (kept: Kept) =>
  kept.to === 'photos' && kept.bytes ? kept.bytes.arrayBuffer() : new ArrayBuffer(0)

function drawing(on: string): Kept {
  const body = { photo: on, version: 1, marks: [{ kind: 'circle', x: 0.5, y: 0.5, radius: 0.1 }] }
  const said = { label: 'Drawn on a photo', typed: '1 circle', restsOn: [on] }
  return { id: uuidv7(), author: me(), to: 'sync', deed: 'mark-photo', body, ...said }
}

function takenBack(on: string): Kept {
  const body = { photo: on, because: 'Undone at once' }
  const said = { label: 'Photo', typed: 'taken back', takesBack: on }
  return { id: uuidv7(), author: me(), to: 'sync', deed: 'take-back-photo', body, ...said }
}

const serverHas = async () =>
  new Set((await shop.store.db.reading.findMany({ select: { id: true } })).map(({ id }) => id))
const said = (entries: readonly Entry[]) =>
  entries.map((entry) => [entry.kept.typed, stateWords(entry)] as const)

describe('what was recorded on this device', () => {
  test('is there after the page was killed, in its order, and goes out from the next', async () => {
    device.weather = () => 'lost-going'
    const first = device.open()
    for (const value of ['4.5', '4.4', '4.6']) first.outbox.add(reading(value))
    expect(said(first.outbox.state().entries).map(([, state]) => state)).toEqual(
      Array(3).fill('only on this page'),
    )
    await device.quiet()
    expect(said(first.outbox.state().entries)).toEqual([
      ['4.5', 'on this tablet'],
      ['4.4', 'on this tablet'],
      ['4.6', 'on this tablet'],
    ])
    expect(sendingWords(first.outbox.state())).toBe(
      'No network: 3 readings on this tablet. Sent by itself once there is one.',
    )
    device.kill(first)
    device.weather = () => 'fine'
    const second = device.open()
    await device.untilSent()
    expect(said(second.outbox.state().entries)).toEqual([
      ['4.5', 'on the server'],
      ['4.4', 'on the server'],
      ['4.6', 'on the server'],
    ])
  })

  test('and was refused is still there to be looked at, until it is put away', async () => {
    const first = device.open()
    first.outbox.add(reading('45'))
    await device.untilSent()
    device.kill(first)
    const second = device.open()
    await device.quiet()
    expect(said(second.outbox.state().entries)).toEqual([['45', 'needs a look']])
    expect(second.outbox.state().entries[0]).toMatchObject({ refused: { fields: { value: /45 mm/ } } })
    second.outbox.forget([second.outbox.state().entries[0]!.kept.id])
    await device.quiet()
    device.kill(second)
    const third = device.open()
    await device.quiet()
    expect(third.outbox.state().entries).toEqual([])
  })

  test('in one tab is seen in the other, and what that one sends is sent in both', async () => {
    device.weather = () => 'lost-going'
    const [one, other] = [device.open(), device.open()]
    one.outbox.add(reading('4.5'))
    await device.quiet()
    expect(said(other.outbox.state().entries)).toEqual([['4.5', 'on this tablet']])
    device.weather = () => 'fine'
    await other.outbox.sendNow()
    await device.quiet()
    expect(said(one.outbox.state().entries)).toEqual([['4.5', 'on the server']])
    expect([...(await device.onDisk()).values()]).toEqual(['sent'])
  })

  test('as a photo comes back with its bytes, and one whose bytes are no longer the same goes nowhere', async () => {
    device.weather = () => 'lost-going'
    const tab = device.open()
    const [harmed, whole] = [await photo(), await photo()]
    tab.outbox.add(harmed)
    tab.outbox.add(whole)
    // Hashes of photos are worked out beside, where nothing says that they are under way.
    await vi.waitFor(async () => expect((await device.onDisk()).size).toBe(2))
    await device.quiet()
    device.kill(tab)
    const store = await openTabletStore()
    const row = (await store.get('bytes', harmed.id))!
    await store.put('bytes', { ...row, bytes: row.bytes.slice(1) })
    store.close()
    device.weather = () => 'fine'
    const after = device.open()
    await vi.waitFor(async () => {
      await device.untilSent()
      expect(after.outbox.state().entries.map((entry) => [entry.kept.id, stateWords(entry)])).toEqual([
        [harmed.id, 'needs a look'],
        [whole.id, 'on the server'],
      ])
    })
    expect((await shop.store.db.photo.findMany()).map(({ id }) => id)).toEqual([whole.id])
    await vi.waitFor(async () => expect([...(await device.onDisk()).values()]).toEqual(['refused', 'sent']))
  })

  test('as a photo is seen until the pages show it, also from another page and where it was refused', async () => {
    const tab = device.open()
    const [good, wrong] = [await photo(), await photo()]
    const picture = new Uint8Array(await bytesOf(good))
    tab.outbox.add(good)
    tab.outbox.add({ ...wrong, bytes: new Blob(['no picture']) } as Kept)
    await vi.waitFor(async () => {
      await device.untilSent()
      expect([...(await device.onDisk()).values()]).toEqual(['sent', 'refused'])
    })
    device.kill(tab)
    const after = device.open()
    await device.quiet()
    const seen = await after.outbox.picture(good.id)
    expect(new Uint8Array(await seen!.arrayBuffer())).toEqual(picture)
    expect(await (await after.outbox.picture(wrong.id))?.text()).toBe('no picture')
    await after.outbox.pagesKept(1)
    after.outbox.forget([wrong.id])
    await device.quiet()
    expect(await after.outbox.picture(good.id)).toBeNull()
    expect(await after.outbox.picture(wrong.id)).toBeNull()
  })

  test('as a drawing whose photo is taken back is let go of, also by the next page', async () => {
    device.weather = () => 'lost-going'
    const tab = device.open()
    const one = await photo()
    tab.outbox.add(one)
    tab.outbox.add(drawing(one.id))
    await vi.waitFor(async () => expect((await device.onDisk()).size).toBe(2))
    await device.quiet()
    device.kill(tab)
    const next = device.open()
    await device.quiet()
    next.outbox.add(takenBack(one.id))
    await device.quiet()
    expect(said(next.outbox.state().entries).map(([typed]) => typed)).toEqual(['1 kB', 'taken back'])
    expect((await device.onDisk()).size).toBe(2)
  })

  test('stays on the page where the browser keeps nothing, and the words say so', async () => {
    globalThis.indexedDB = undefined as unknown as IDBFactory
    device.weather = () => 'lost-going'
    const tab = device.open()
    tab.outbox.add(reading('4.5'))
    await device.quiet()
    expect(said(tab.outbox.state().entries)).toEqual([['4.5', 'only on this page']])
    expect(sendingWords(tab.outbox.state())).toMatch(/1 reading only on this page.*leave this page open/)
    device.weather = () => 'fine'
    await tab.outbox.sendNow()
    expect(said(tab.outbox.state().entries)).toEqual([['4.5', 'on the server']])
  })

  test('is lost by nothing and done twice by nothing, whatever happens to tabs and network', async () => {
    const weather = fc.constantFrom<Weather>('fine', 'lost-going', 'lost-coming', 'busy', 'signed-out')
    const tab = fc.nat({ max: 2 })
    const step = fc.oneof(
      { weight: 5, arbitrary: fc.record({ do: fc.constant('add'), tab, wrong: fc.boolean() }) },
      { weight: 2, arbitrary: fc.record({ do: fc.constant('weather'), to: fc.array(weather) }) },
      { weight: 2, arbitrary: fc.record({ do: fc.constant('go on'), tab }) },
      { weight: 2, arbitrary: fc.record({ do: fc.constant('kill'), tab }) },
      { weight: 2, arbitrary: fc.record({ do: fc.constant('wait') }) },
      { weight: 1, arbitrary: fc.record({ do: fc.constant('open') }) },
      { weight: 1, arbitrary: fc.record({ do: fc.constant('put away'), tab }) },
    )
    await fc.assert(
      fc.asyncProperty(fc.array(step, { maxLength: 30 }), (steps) => tryOut(steps as Step[])),
      { numRuns: 40, endOnFailure: true },
    )
  })
})

type Step =
  | { do: 'add'; tab: number; wrong: boolean }
  | { do: 'weather'; to: Weather[] }
  | { do: 'go on' | 'kill' | 'put away'; tab: number }
  | { do: 'wait' | 'open' }

async function tryOut(steps: readonly Step[]): Promise<void> {
  globalThis.indexedDB = new IDBFactory()
  device = new Device()
  const good: string[] = []
  const wrong: string[] = []
  /** What a person was told is on this tablet. */
  const promised = new Set<string>()
  const putAway = new Set<string>()
  const before = await serverHas()
  device.open()

  for (const step of steps) {
    const tab = 'tab' in step ? (device.tabs[step.tab % device.tabs.length] ?? device.open()) : null
    switch (step.do) {
      case 'add': {
        const kept = reading(step.wrong ? '45' : '4.5')
        ;(step.wrong ? wrong : good).push(kept.id)
        tab!.outbox.add(kept)
        break
      }
      case 'weather': {
        const rest = [...step.to]
        device.weather = () => rest.shift() ?? step.to.at(-1) ?? 'fine'
        break
      }
      case 'go on':
        tab!.goOn()
        break
      case 'kill':
        device.kill(tab!)
        break
      case 'open':
        device.open()
        break
      case 'put away':
        for (const { kept, state } of tab!.outbox.state().entries) {
          if (state !== 'refused') continue
          putAway.add(kept.id)
          tab!.outbox.forget([kept.id])
        }
        break
      case 'wait':
        await device.quiet()
        await statesAreTrue()
    }
    for (const { kept, onDisk } of device.tabs.flatMap(({ outbox }) => outbox.state().entries))
      if (onDisk) promised.add(kept.id)
  }

  for (const tab of [...device.tabs]) device.kill(tab)
  device.weather = () => 'fine'
  const last = device.open()
  await device.untilSent()
  await statesAreTrue()
  const after = await serverHas()
  const arrived = [...after].filter((id) => !before.has(id))
  expect(arrived.filter((id) => !good.includes(id))).toEqual([])
  expect(
    good.filter((id) => promised.has(id) && !after.has(id)),
    'lost',
  ).toEqual([])
  const shown = last.outbox
    .state()
    .entries.flatMap(({ kept, state }) => (state === 'refused' ? [kept.id] : []))
  expect(
    wrong.filter((id) => promised.has(id) && !putAway.has(id) && !shown.includes(id)),
    'refused and not shown',
  ).toEqual([])
  expect(last.outbox.state().entries.some(({ state }) => state === 'waiting' || state === 'sending')).toBe(
    false,
  )
}

/** With nothing under way: on this tablet is on disk, on the server is there, what needs a look was not taken. */
async function statesAreTrue(): Promise<void> {
  const [disk, server] = [await device.onDisk(), await serverHas()]
  for (const entry of device.tabs.flatMap(({ outbox }) => outbox.state().entries)) {
    const { id } = entry.kept
    const words = stateWords(entry)
    if (words === 'on this tablet') expect(disk.get(id)).toBe('waiting')
    if (words === 'on the server') expect(server.has(id)).toBe(true)
    if (words === 'needs a look') expect([disk.get(id), server.has(id)]).toEqual(['refused', false])
  }
}
