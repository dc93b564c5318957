import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { appendEvent } from '../../lib/data/events'
import { addPhoto } from '../../lib/shop/add-photo'
import { setBikeLimit } from '../../lib/shop/bike-limit'
import { changeBike } from '../../lib/shop/change-bike'
import { clearLock } from '../../lib/shop/clear-lock'
import { decide, withdrawDecision } from '../../lib/shop/decide'
import type { Context, Who } from '../../lib/shop/deed'
import { noteDistance, withdrawDistance } from '../../lib/shop/distances'
import { noteIdentity, noteRegister } from '../../lib/shop/identity'
import { declareOpen, finishJob, putBack } from '../../lib/shop/job-runs'
import { makeOffer } from '../../lib/shop/make-offer'
import { answerQuestion, askManager } from '../../lib/shop/questions'
import { readStory, type StoryAsked, storyAsked, storyPage } from '../../lib/shop/read-story'
import { recordReading } from '../../lib/shop/record-reading'
import { rideIn } from '../../lib/shop/rides'
import { backOnBench, passUp } from '../../lib/shop/stages'
import { storyKinds, verbsTold } from '../../lib/shop/story-words'
import { may, type Verb } from '../../lib/shop/who-may'
import { begin } from '../support/on-the-bench'
import { done, type OpenShop, openInventedShop, openTestShop, testNow, viewing } from '../support/open-shop'
import { look, measured, takenIn } from '../support/readings'
import { goOut } from '../support/rides'
import type { FreshFolder } from '../support/shop-folder'
import { findSound } from '../support/sound-bike'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await takenIn(shop, {
    asking: '1450',
    sellerName: 'Somebody',
    notes: 'Stood long',
  }))
})
afterEach(() => shop.dispose())

const all: StoryAsked = { kind: null, order: 'oldest', behind: null }
const storyFor = (context: Context, asked: Partial<StoryAsked> = {}) =>
  readStory({ ...context, who: context.who! }, { viewingNo: String(viewingNo), asked: { ...all, ...asked } })
const saidTo = async (context: Context, asked: Partial<StoryAsked> = {}) =>
  (await storyFor(context, asked)).entries.map(({ says }) => says)
const last = async (context: Context = shop.manager) => (await saidTo(context)).at(-1)!

describe('the words of a story', () => {
  test('begin with the bike as it was taken in, with what was asked for who may see it', async () => {
    const [entry] = (await storyFor(shop.dealer)).entries
    expect(entry).toMatchObject({ kind: 'papers', who: 'Dele' })
    expect(entry!.says).toMatch(/^Taken in as viewing 1: .+ on the clock\.$/)
    expect(entry!.amounts).toContainEqual({ label: 'Asked', minor: 145_000 })
  })

  test('tell a reading by the title of its check, the words of its answer, its unit and what it was read with', async () => {
    done(await recordReading(look(bike, ['fuel-leaks', 'dry'], { note: 'Cold night' }), shop.technician))
    expect(await last()).toBe('Fuel smell and leaks: Dry, no smell. Cold night.')
    const pad = measured(bike, '4.5')
    done(await recordReading(pad, shop.technician))
    expect(await last()).toBe('Front pads, both calipers, left caliper, inner pad: 4.5 mm by calliper.')
    done(await recordReading(measured(bike, '4.2', { supersedes: pad.id }), shop.technician))
    expect(await last()).toBe(
      'Front pads, both calipers, left caliper, inner pad: 4.2 mm by calliper, in place of an earlier reading.',
    )
    const idle = { check: 'keys-counted', kind: 'number', position: null, unit: null, instrument: null }
    done(await recordReading(measured(bike, '2', idle), shop.technician))
    expect(await last()).toBe('Keys that work: 2 keys.')
    done(await recordReading(look(bike, ['tank-cap', 'No time'], { kind: 'skipped' }), shop.technician))
    expect(await last()).toMatch(/: left out\. No time\.$/)
  })

  test('say when a value was taken that reached the shop late', async () => {
    done(
      await recordReading(
        look(bike, ['fuel-leaks', 'dry'], { takenAt: '2026-11-25T08:00:00Z' }),
        shop.technician,
      ),
    )
    const { entries } = await storyFor(shop.technician)
    expect(entries.at(-1)).toMatchObject({ takenAt: '2026-11-25T08:00:00.000Z', who: 'Tove' })
    done(await recordReading(look(bike, ['tank-inside', 'clean']), shop.technician))
    expect((await storyFor(shop.technician)).entries.at(-1)).toMatchObject({ takenAt: null })
  })

  test('tell work, what it leaves open, and what is asked and answered', async () => {
    await shop.store.db.bike.update({ where: { id: bike }, data: { stage: 'on the bench' } })
    const run = await begin(shop, { bike, job: 'oil-and-filter', opens: ['oil-drained'] })
    expect(await last()).toBe('Began "Oil and filter". Open from now on: oil drained.')
    const asked = { question: uuidv7(), bike, run, asks: 'Metal in the oil. Go on?' }
    const rest = { moreHours: '6', undone: 'Sump off', keptWhere: 'Box 3' }
    done(await askManager({ ...asked, ...rest }, shop.technician))
    expect(await last()).toBe(
      'Asked the manager: Metal in the oil. Go on? More hours: 6. Undone: Sump off. Kept: Box 3.',
    )
    const answer = {
      question: asked.question,
      version: 1,
      answer: 'go on',
      budgetHours: '5',
      note: 'Send a sample',
    }
    done(await answerQuestion(answer, shop.manager))
    expect(await last()).toBe('Answered: go on, up to 5 h (Send a sample).')
    const { version } = await shop.store.db.jobRun.findUniqueOrThrow({ where: { id: run } })
    done(await finishJob({ run, version, minutes: '45', note: 'Clean after all' }, shop.technician))
    expect(await last()).toBe(
      'Finished "Oil and filter", 45 minutes. Clean after all. Still open: oil drained.',
    )
    const [state] = await shop.store.db.openState.findMany()
    done(await putBack({ state: state!.id, version: state!.version, inOrder: 'yes' }, shop.technician))
    expect(await last()).toBe('Put back and in order: oil drained.')
    done(await declareOpen({ id: uuidv7(), bike, kind: 'brake-open', note: 'front' }, shop.technician))
    expect(await last()).toBe('Open from now on: brake open (front).')
  })

  test('tell that an answer ended the work, and what it left open', async () => {
    await shop.store.db.bike.update({ where: { id: bike }, data: { stage: 'on the bench' } })
    const run = await begin(shop, { bike, job: 'oil-and-filter', opens: ['oil-drained'] })
    const question = uuidv7()
    const asked = { question, bike, run, asks: 'Metal in the oil' }
    done(await askManager(asked, shop.at(shop.technician, '2026-11-25T12:40:00Z')))
    const answer = { question, version: 1, answer: 'stop', begun: 'ends', note: 'We break it' }
    done(await answerQuestion(answer, shop.at(shop.manager, '2026-11-25T13:00:00Z')))
    expect(await last(shop.technician)).toBe(
      'Answered: stop (We break it). "Oil and filter" ends here after 40 minutes. Still open: oil drained.',
    )
  })

  test('tell everybody why a bike came back from ready', async () => {
    await shop.store.db.bike.update({ where: { id: bike }, data: { stage: 'ready' } })
    done(await backOnBench({ bike, version: 1, reason: 'The front brake drags' }, shop.manager))
    expect(await last(shop.technician)).toBe('Back from ready to the bench: The front brake drags.')
  })

  test('tell a ride with its papers, what is held meanwhile, and a clock that shows less than before', async () => {
    await findSound(shop.technician, { bike })
    const ride = await goOut(shop.dealer, { bike, purpose: 'buyer', rider: 'A buyer', held: 'Car keys' })
    expect(await last()).toBe(
      'Out for a ride (buyer) by A buyer at 31300 mi on the clock; licence: full, seen today; cover: trade cover; plates: trade plates; held: Car keys.',
    )
    done(await rideIn({ ride, version: 1, distanceIn: '31312', note: 'Likes it' }, shop.dealer))
    expect(await last()).toBe('Back from a ride by A buyer at 31312 mi on the clock (Likes it).')
    await goOut(shop.technician, { bike, distanceOut: '30000', showsLess: 'yes' })
    expect(await last()).toBe(
      'Out for a ride (test) by Tove at 30000 mi on the clock, which is less than before; licence: full, seen today; cover: trade cover; plates: trade plates.',
    )
  })

  test('tell decisions with their reasons, and what was taken back', async () => {
    const id = uuidv7()
    const decision = { id, kind: 'add-fault', key: 'tank-rust', reason: 'Seen with a lamp' }
    done(await decide({ bike, decision }, shop.dealer))
    expect(await last()).toBe('Fault added: "Tank rusting inside". Seen with a lamp.')
    done(await withdrawDecision({ decision: id, version: 1 }, shop.dealer))
    expect(await last()).toBe('Taken back: fault added: "Tank rusting inside".')
    done(await recordReading(look(bike, ['loom', 'bare']), shop.technician))
    done(await clearLock({ bike, fault: 'loom-unsafe', reason: 'A dead wire', for: 'day' }, shop.manager))
    expect(await last()).toMatch(/^Opened what ".+" kept shut: A dead wire\.$/)
    done(await passUp({ bike, version: 1, reason: 'Too far gone' }, shop.dealer))
    expect(await last()).toBe('Passed up: Too far gone.')
  })

  test('tell papers, distances, limits and photos', async () => {
    const asked = { askedOf: 'the register', day: '2026-11-25' }
    done(
      await noteRegister({ id: uuidv7(), bike, register: 'stolen', ...asked, answer: 'clear' }, shop.dealer),
    )
    expect(await last()).toBe(
      'Register of stolen vehicles, asked on 2026-11-25 of the register: nothing on record.',
    )
    done(await noteIdentity({ id: uuidv7(), bike, point: 'frame-number', answer: 'same' }, shop.dealer))
    expect(await last()).toBe('Frame number: The same on frame, plate and paper.')
    const point = uuidv7()
    const noted = { day: '2024-05-02', distance: '21000', unit: 'mi', source: 'inspection' }
    done(await noteDistance({ id: point, bike, ...noted }, shop.technician))
    expect(await last()).toBe('Distance noted: 21000 mi on 2024-05-02, from inspection.')
    done(await withdrawDistance({ point, reason: 'Another bike' }, shop.technician))
    expect(await last()).toBe('A noted distance taken back: Another bike.')
    const limit = {
      id: uuidv7(),
      bike,
      check: 'disc-rear',
      source: 'stamped',
      min: '4.5',
      asNew: '5',
      unit: 'mm',
    }
    done(await setBikeLimit(limit, shop.technician))
    expect(await last()).toContain('for this bike: at least 4.5')
    const png = await sharp({ create: { width: 8, height: 8, channels: 3, background: '#777777' } })
      .png()
      .toBuffer()
    const photo = { id: uuidv7(), bike, check: 'tank-inside', caption: 'Flakes', bytes: new Uint8Array(png) }
    done(await addPhoto({ ...photo, takenAt: '2026-11-25T11:58:00Z' }, shop.technician))
    expect(await last()).toMatch(/^Photo of ".+": Flakes\.$/)
  })

  test('tell what was corrected: short facts from what to what, long ones by name', async () => {
    const { version } = await shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })
    const facts = viewing({
      id: bike,
      asking: '1300',
      notes: 'Other words',
      sellerName: 'Somebody else',
      year: '1996',
    })
    done(await changeBike({ ...facts, version }, shop.dealer))
    const said = await last()
    expect(said).toMatch(/^Corrected: notes, .*year from 1997 to 1996\.$/)
    expect((await storyFor(shop.dealer)).entries.at(-1)!.amounts).toEqual([
      { label: 'Asked', minor: 130_000 },
    ])
    expect(said).toContain('seller from Somebody to Somebody else')
    expect(await last(shop.technician)).not.toMatch(/seller|1300|Somebody/)
  })
})

describe('a story', () => {
  test('tells a technician no money: no amounts, no offers, no papers of the seller, no reasons of a dealer', async () => {
    const validUntil = '2026-12-02'
    done(await makeOffer({ bike, version: 1, price: '1234', validUntil }, shop.dealer))
    const decision = { id: uuidv7(), kind: 'add-job', key: 'tank-reseal', reason: 'Worth 1234 more' }
    done(await decide({ bike, decision }, shop.dealer))
    done(await noteIdentity({ id: uuidv7(), bike, point: 'seller-identity', answer: 'seen' }, shop.dealer))
    const theirs = await storyFor(shop.dealer)
    expect(theirs.entries).toHaveLength(4)
    expect(JSON.stringify(theirs)).toContain('123400')
    const mine = await storyFor(shop.technician)
    expect(mine.entries.map(({ kind }) => kind)).toEqual(['papers', 'decisions'])
    expect(mine.whole.count).toBe(2)
    expect(mine.kinds).not.toContain('money')
    expect(JSON.stringify(mine)).not.toMatch(/1234|1450|145000|amounts|Offered|Somebody/)
    expect((await storyFor(shop.technician, { kind: 'money' })).asked.kind).toBeNull()
  })

  test('is told by kind, newest or oldest first', async () => {
    done(await recordReading(look(bike, ['fuel-leaks', 'dry']), shop.technician))
    done(await declareOpen({ id: uuidv7(), bike, kind: 'brake-open', note: '' }, shop.technician))
    expect((await storyFor(shop.dealer, { kind: 'readings' })).entries).toMatchObject([{ kind: 'readings' }])
    const newest = await saidTo(shop.dealer, { order: 'newest' })
    expect(newest).toEqual([...(await saidTo(shop.dealer))].reverse())
    expect(newest[0]).toBe('Open from now on: brake open.')
  })

  test('goes on from page to page, and every entry stands on exactly one of them', async () => {
    const { store, technician } = shop
    await store.transaction(async (tx) => {
      for (let count = 0; count < storyPage * 2; count += 1) {
        await appendEvent(tx, {
          at: testNow,
          personId: technician.who!.personId,
          deviceId: null,
          verb: 'work:do',
          bikeId: bike,
          body: { did: 'went on', title: `step ${count}` },
        })
      }
    })
    for (const order of ['newest', 'oldest'] as const) {
      const seen: number[] = []
      let behind: number | null = null
      for (const length of [storyPage, storyPage, 1]) {
        const page: Awaited<ReturnType<typeof storyFor>> = await storyFor(technician, { order, behind })
        expect(page.entries).toHaveLength(length)
        expect(page.count).toBe(storyPage * 2 + 1)
        seen.push(...page.entries.map(({ seq }) => seq))
        behind = page.next
      }
      expect(behind).toBeNull()
      expect(seen).toEqual([...new Set(seen)].sort((a, b) => (order === 'newest' ? b - a : a - b)))
    }
  })

  test('is about one bike, and refused for a number that no bike has', async () => {
    const other = await takenIn(shop)
    done(await recordReading(look(other.bike, ['fuel-leaks', 'wet']), shop.technician))
    expect((await storyFor(shop.dealer)).entries).toHaveLength(1)
    for (const number of ['0', '99', 'x', '-1', '1.5']) {
      const asked = { viewingNo: number, asked: all }
      await expect(readStory({ ...shop.dealer, who: shop.dealer.who! }, asked)).rejects.toThrow(
        'There is no bike with that number.',
      )
    }
  })

  test.each([
    [{}, { kind: null, order: 'newest', behind: null }],
    [
      { kind: 'work', order: 'oldest', behind: '7' },
      { kind: 'work', order: 'oldest', behind: 7 },
    ],
    [
      { kind: 'all', order: 'sideways', behind: '-3' },
      { kind: null, order: 'newest', behind: null },
    ],
    [
      { kind: ['work', 'money'], behind: '1e99' },
      { kind: null, order: 'newest', behind: null },
    ],
  ])('is asked for by an address: %o', (typed, asked) => {
    expect(storyAsked(typed)).toEqual(asked)
  })
})

describe('the stories of the invented shop', () => {
  let fresh: FreshFolder
  beforeAll(async () => {
    fresh = await openInventedShop()
  })
  afterAll(() => fresh.dispose())

  test('have a whole sentence for every event of every bike', async () => {
    const { store } = fresh
    const person = await store.db.person.findFirstOrThrow({ where: { name: 'Maren' } })
    const who: Who = { personId: person.id, name: 'Maren', roles: ['manager'], deviceId: null }
    const context = { store, now: testNow, who, deviceId: null }
    const verbs = new Set<string>()
    for (const { id, viewingNo: number } of await store.db.bike.findMany()) {
      const events = await store.db.event.findMany({ where: { bikeId: id } })
      for (const { verb } of events) verbs.add(verb)
      const said: string[] = []
      let behind: number | null = null
      do {
        const asked: StoryAsked = { ...all, behind }
        const page = await readStory(context, { viewingNo: String(number), asked })
        said.push(...page.entries.map(({ says }) => says))
        behind = page.next
      } while (behind !== null)
      expect(said).toHaveLength(events.length)
      const odd = said.filter(
        (says) => !/^[A-Z]/.test(says) || /undefined|null|NaN|\[object|[:,] ?\.|\( *\)/.test(says),
      )
      expect(odd).toEqual([])
    }
    expect([...verbs].filter((verb) => !verbsTold({ kind: null, money: true }).includes(verb))).toEqual([])
    expect(verbs.size).toBeGreaterThan(10)
  })
})

test('every verb belongs to one kind of entry or is done to no bike, and no kind is empty', () => {
  const told = storyKinds.flatMap((kind) => verbsTold({ kind, money: true }))
  expect(new Set(told).size).toBe(told.length)
  expect([...told].sort()).toEqual([...verbsTold({ kind: null, money: true })].sort())
  for (const verb of told) expect(Object.keys(may) as Verb[]).toContain(verb)
  for (const kind of storyKinds) expect(verbsTold({ kind, money: true }), kind).not.toEqual([])
  expect(verbsTold({ kind: null, money: false })).not.toContain('offer:make')
})
