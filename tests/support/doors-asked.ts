import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import * as plan from '../../app/(shop)/bench/actions'
import * as bikes from '../../app/(shop)/bikes/[bike]/actions'
import * as bench from '../../app/(shop)/bikes/[bike]/bench/actions'
import * as checks from '../../app/(shop)/bikes/[bike]/checks/actions'
import * as deal from '../../app/(shop)/bikes/[bike]/deal/actions'
import * as identity from '../../app/(shop)/bikes/[bike]/identity/actions'
import * as offers from '../../app/(shop)/bikes/[bike]/offer/actions'
import * as photos from '../../app/(shop)/bikes/[bike]/photos/actions'
import * as prices from '../../app/(shop)/bikes/[bike]/prices/actions'
import * as rides from '../../app/(shop)/bikes/[bike]/rides/actions'
import * as work from '../../app/(shop)/bikes/[bike]/work/actions'
import * as parts from '../../app/(shop)/parts/actions'
import { addPhoto } from '../../lib/shop/add-photo'
import { noteComparable } from '../../lib/shop/comparables'
import { importComparables } from '../../lib/shop/comparables-csv'
import { noteDistance } from '../../lib/shop/distances'
import { declareOpen, finishJob, pauseJob } from '../../lib/shop/job-runs'
import { makeOffer } from '../../lib/shop/make-offer'
import { partAtHand } from '../../lib/shop/part-comes'
import { pinTask, promiseDay } from '../../lib/shop/plan-pins'
import { askManager } from '../../lib/shop/questions'
import { sayReady } from '../../lib/shop/ready'
import { rideIn } from '../../lib/shop/rides'
import { fitFromShelf } from '../../lib/shop/shelf'
import { notePart, noteSpend } from '../../lib/shop/spends'
import { keepWhatIf } from '../../lib/shop/what-ifs'
import type { Role, Verb } from '../../lib/shop/who-may'
import type { FormAction } from '../../lib/web/form-door'
import type { Sent } from './at-the-door'
import { priceOfForm, priceTable } from './noted-prices'
import { begin, onTheBench } from './on-the-bench'
import { cleared, done, type OpenShop, testDay } from './open-shop'
import * as told from './parts'
import { answer, takenIn } from './readings'
import { goOut, ridingOut } from './rides'
import { findSound } from './sound-bike'

/*
 * The doors of a bike, each with what the seven questions need to know of it. What a form sends is written as the
 * form sends it: text by the name of its field.
 */

type Saw =
  | 'Bike'
  | 'Comparable'
  | 'JobRun'
  | 'OpenState'
  | 'PartLine'
  | 'Photo'
  | 'Promised'
  | 'Question'
  | 'Ride'
  | 'SentOut'
  | 'ShelfPart'
  | 'Spend'
  | 'WhatIf'

export type DoorAsked = {
  verb: Verb
  door: FormAction<never>
  /** Whose door it is. */
  for: readonly Role[]
  /** Makes what the form is about, and answers what the form sends. */
  sends: (shop: OpenShop) => Promise<Sent>
  /** The field that names what it is about. */
  about: string
  /** A field that cannot be right, and what was typed there: its message stands at it. */
  wrong: { field: string; typed: string }
  /** The table of what the form saw a version of; none where nothing that can grow old is saved over. */
  saw?: Saw
  /** Rows that are new or other afterwards, by table, beside the event. */
  writes: Readonly<Record<string, number>>
  /** What the event says. */
  tells: object
}

const everyone = ['technician', 'dealer', 'manager'] as const
const money = ['dealer', 'manager'] as const
const manager = ['manager'] as const

const door = <R>(action: FormAction<R>) => action as unknown as FormAction<never>
const onBench = async (shop: OpenShop) => (await onTheBench(shop)).bike
const begun = async (shop: OpenShop) => begin(shop, { bike: await onBench(shop) })
const paused = async (shop: OpenShop) => {
  const run = await begun(shop)
  done(await pauseJob({ run, version: 1 }, shop.technician))
  return run
}
const finished = async (shop: OpenShop) => {
  const run = await begun(shop)
  done(await finishJob({ run, version: 1 }, shop.technician))
  return run
}
const opened = async (shop: OpenShop) => {
  const { bike } = await takenIn(shop)
  return done(await declareOpen({ id: uuidv7(), bike, kind: 'oil-drained' }, shop.technician)).state
}
const out = async (shop: OpenShop) => {
  const { bike } = await takenIn(shop)
  await findSound(shop.technician, { bike })
  return goOut(shop.technician, { bike })
}
const asking = async (shop: OpenShop) => {
  const bike = await onBench(shop)
  const run = await begin(shop, { bike })
  const found = { asks: 'The thread is gone', moreHours: '3', undone: 'Tank off', keptWhere: 'Box 4' }
  return { question: uuidv7(), bike, run, ...found }
}
const distanceOf = (bike: string) => ({
  ...{ id: uuidv7(), bike, day: '2024-05-02', distance: '28400', unit: 'mi', source: 'service', note: '' },
})
/** A price noted for a bike, and what the forms that are about it send. */
const priced = async (shop: OpenShop) => {
  const { bike } = await takenIn(shop)
  const id = uuidv7()
  done(await noteComparable({ id, bike, ...priceOfForm }, shop.dealer))
  return { comparable: id, bike, version: '1' }
}
/** What the form sends that keeps a what-if. */
const whatIfOf = (bike: string) => ({
  ...{ id: uuidv7(), bike, name: 'Cheaper', asking: '900', maxChanceOfLoss: '5', 'out[]': 'tank-reseal' },
})
/** What the form for a part sends, for work that is begun. */
const partOf = async (shop: OpenShop) => {
  const bike = await onBench(shop)
  const run = await begin(shop, { bike })
  return { id: uuidv7(), bike, run, what: 'Front pads', number: 'TY-104', qty: '2' }
}
const partNoted = async (shop: OpenShop) => {
  const part = await partOf(shop)
  done(await notePart(part, shop.technician))
  return { spend: part.id, version: '1' }
}
const circle = { kind: 'circle', x: 0.25, y: 0.5, radius: 0.1 }
/** A photo of what a check found, as its forms name it. */
const pictured = async (shop: OpenShop) => {
  const { bike } = await takenIn(shop)
  const bytes = await sharp({ create: { width: 40, height: 30, channels: 3, background: '#806040' } })
    .jpeg()
    .toBuffer()
  const photo = uuidv7()
  const taken = { bike, check: 'fuel-leaks', takenAt: '2026-11-25T11:58:00Z', bytes }
  done(await addPhoto({ id: photo, ...taken }, shop.technician))
  return { photo, version: '1' }
}
/** Everything read, torqued, ridden and looked at by a second person. */
const allDone = async (shop: OpenShop) => {
  const bike = await onBench(shop)
  await findSound(shop.technician, { bike })
  const ride = await goOut(shop.dealer, { bike, purpose: 'final' })
  done(await rideIn({ ride, version: 1, distanceIn: '31310' }, shop.dealer))
  done(await sayReady({ id: uuidv7(), bike, point: 'second-person', note: '' }, shop.dealer))
  return bike
}

export const doorsAsked: Readonly<Record<string, DoorAsked>> = {
  startJob: {
    verb: 'work:do',
    door: door(bench.startJobAction),
    for: everyone,
    sends: async (shop) => ({
      ...{ run: uuidv7(), bike: await onBench(shop), job: 'front-pads', budgetHours: '2', stopOn: 'Cracks' },
      'opens[]': ['brake-open', 'axle-loose'],
    }),
    about: 'bike',
    wrong: { field: 'budgetHours', typed: 'a morning' },
    writes: { JobRun: 1, JobSpell: 1, OpenState: 2 },
    tells: { did: 'started', job: 'front-pads', opens: ['brake-open', 'axle-loose'] },
  },
  pauseJob: {
    verb: 'work:do',
    door: door(bench.pauseJobAction),
    for: everyone,
    sends: async (shop) => ({ run: await begun(shop), version: '1', everybody: 'yes' }),
    about: 'run',
    wrong: { field: 'everybody', typed: 'perhaps' },
    saw: 'JobRun',
    writes: { JobRun: 1, JobSpell: 1 },
    tells: { did: 'paused', minutes: 360 },
  },
  goOnWithJob: {
    verb: 'work:do',
    door: door(bench.goOnWithJobAction),
    for: everyone,
    sends: async (shop) => ({ run: await paused(shop), version: '2' }),
    about: 'run',
    wrong: { field: 'run', typed: 'the pads' },
    saw: 'JobRun',
    writes: { JobRun: 1, JobSpell: 1 },
    tells: { did: 'went on', job: 'front-pads' },
  },
  finishJob: {
    verb: 'work:do',
    door: door(bench.finishJobAction),
    for: everyone,
    sends: async (shop) => ({ run: await begun(shop), version: '1', minutes: '95', note: 'Pins greased' }),
    about: 'run',
    wrong: { field: 'minutes', typed: '1.5' },
    saw: 'JobRun',
    writes: { JobRun: 1, JobSpell: 1 },
    tells: { did: 'finished', minutes: 95, note: 'Pins greased' },
  },
  giveUpJob: {
    verb: 'work:do',
    door: door(bench.giveUpJobAction),
    for: everyone,
    sends: async (shop) => ({ run: await begun(shop), version: '1', note: 'Wrong pads came' }),
    about: 'run',
    wrong: { field: 'note', typed: ' ' },
    saw: 'JobRun',
    writes: { JobRun: 1, JobSpell: 1 },
    tells: { did: 'gave up', note: 'Wrong pads came' },
  },
  correctMinutes: {
    verb: 'work:do',
    door: door(bench.correctMinutesAction),
    for: everyone,
    sends: async (shop) => ({ run: await finished(shop), version: '2', minutes: '40', note: 'Ran on' }),
    about: 'run',
    wrong: { field: 'minutes', typed: 'forty' },
    saw: 'JobRun',
    writes: { JobRun: 1, JobSpell: 1 },
    tells: { did: 'minutes corrected', minutes: 40, note: 'Ran on' },
  },
  declareOpen: {
    verb: 'work:do',
    door: door(bench.declareOpenAction),
    for: everyone,
    sends: async (shop) => ({
      ...{ id: uuidv7(), bike: (await takenIn(shop)).bike, kind: 'fuel-off', note: 'Tap out' },
    }),
    about: 'bike',
    wrong: { field: 'kind', typed: 'lid' },
    writes: { OpenState: 1 },
    tells: { did: 'opened', kind: 'fuel-off', note: 'Tap out' },
  },
  putBack: {
    verb: 'work:do',
    door: door(bench.putBackAction),
    for: everyone,
    sends: async (shop) => ({ state: await opened(shop), version: '1', inOrder: 'yes' }),
    about: 'state',
    wrong: { field: 'inOrder', typed: 'nearly' },
    saw: 'OpenState',
    writes: { OpenState: 1 },
    tells: { did: 'put back', kind: 'oil-drained' },
  },
  askManager: {
    verb: 'question:ask',
    door: door(bench.askManagerAction),
    for: everyone,
    sends: asking,
    about: 'bike',
    wrong: { field: 'moreHours', typed: 'a lot' },
    writes: { Question: 1, Bike: 1, JobRun: 1, JobSpell: 1 },
    tells: { did: 'asked', asks: 'The thread is gone', moreHours: 3, keptWhere: 'Box 4' },
  },
  notePart: {
    verb: 'work:do',
    door: door(bench.notePartAction),
    for: everyone,
    sends: partOf,
    about: 'bike',
    wrong: { field: 'qty', typed: 'a few' },
    writes: { Spend: 1 },
    tells: { did: 'part', what: 'Front pads', number: 'TY-104', qty: 2 },
  },
  takeBackPart: {
    verb: 'work:do',
    door: door(bench.takeBackPartAction),
    for: everyone,
    sends: partNoted,
    about: 'spend',
    wrong: { field: 'spend', typed: 'the pads' },
    saw: 'Spend',
    writes: { Spend: 1 },
    tells: { did: 'part back', what: 'Front pads' },
  },
  noteSpend: {
    verb: 'spend:note',
    door: door(work.noteSpendAction),
    for: money,
    sends: async (shop) => ({ ...(await partOf(shop)), kind: 'part', amount: '38.50' }),
    about: 'bike',
    wrong: { field: 'amount', typed: 'not much' },
    writes: { Spend: 1 },
    tells: { did: 'spent', kind: 'part', what: 'Front pads', qty: 2, amountMinor: 3850 },
  },
  priceSpend: {
    verb: 'spend:note',
    door: door(work.priceSpendAction),
    for: money,
    sends: async (shop) => ({ ...(await partNoted(shop)), amount: '38.50' }),
    about: 'spend',
    wrong: { field: 'amount', typed: 'not much' },
    saw: 'Spend',
    writes: { Spend: 1 },
    tells: { did: 'priced', what: 'Front pads', before: null, amountMinor: 3850 },
  },
  takeBackSpend: {
    verb: 'spend:note',
    door: door(work.takeBackSpendAction),
    for: money,
    sends: async (shop) => {
      const spend = { ...(await partOf(shop)), kind: 'part', amount: '38.50' }
      done(await noteSpend(spend, shop.dealer))
      return { spend: spend.id, version: '1', reason: 'Went into another bike' }
    },
    about: 'spend',
    wrong: { field: 'reason', typed: ' ' },
    saw: 'Spend',
    writes: { Spend: 1 },
    tells: { did: 'taken back', what: 'Front pads', amountMinor: 3850, reason: 'Went into another bike' },
  },
  answerQuestion: {
    verb: 'question:answer',
    door: door(bench.answerQuestionAction),
    for: manager,
    sends: async (shop) => {
      const { question } = done(await askManager(await asking(shop), shop.technician))
      return { question, version: '1', answer: 'go on', budgetHours: '5', note: 'Weld it' }
    },
    about: 'question',
    wrong: { field: 'answer', typed: 'as you like' },
    saw: 'Question',
    writes: { Question: 1, Bike: 1, JobRun: 1 },
    tells: { did: 'answered', answer: 'go on', budgetHours: 5, note: 'Weld it' },
  },
  rideOut: {
    verb: 'ride:note',
    door: door(rides.rideOutAction),
    for: everyone,
    sends: async (shop) => {
      const { bike } = await takenIn(shop)
      await findSound(shop.technician, { bike })
      return ridingOut(bike)
    },
    about: 'bike',
    wrong: { field: 'distanceOut', typed: 'half a tank' },
    writes: { Ride: 1 },
    tells: { did: 'out', rider: 'Tove', distance: 31300 },
  },
  rideIn: {
    verb: 'ride:note',
    door: door(rides.rideInAction),
    for: everyone,
    sends: async (shop) => ({
      ride: await out(shop),
      version: '1',
      distanceIn: '31312.5',
      note: 'Pulls left',
    }),
    about: 'ride',
    wrong: { field: 'distanceIn', typed: '31200' },
    saw: 'Ride',
    writes: { Ride: 1 },
    tells: { did: 'in', distance: 31312.5, note: 'Pulls left' },
  },
  markPhoto: {
    verb: 'photo:mark',
    door: door(photos.markPhotoAction),
    for: everyone,
    sends: async (shop) => ({ ...(await pictured(shop)), marks: JSON.stringify([circle]) }),
    about: 'photo',
    wrong: { field: 'marks', typed: '[{"kind":"star","x":0.5,"y":0.5}]' },
    saw: 'Photo',
    writes: { Photo: 1 },
    tells: { check: 'fuel-leaks', marks: 1 },
  },
  takeBackPhoto: {
    verb: 'photo:take-back',
    door: door(photos.takeBackPhotoAction),
    for: everyone,
    sends: async (shop) => ({ photo: (await pictured(shop)).photo, because: 'Of another bike' }),
    about: 'photo',
    wrong: { field: 'because', typed: '' },
    writes: { Photo: 1 },
    tells: { check: 'fuel-leaks', because: 'Of another bike' },
  },
  choosePhoto: {
    verb: 'photo:choose',
    door: door(photos.choosePhotoAction),
    for: money,
    sends: async (shop) => ({ ...(await pictured(shop)), forBuyer: 'yes' }),
    about: 'photo',
    wrong: { field: 'forBuyer', typed: 'perhaps' },
    saw: 'Photo',
    writes: { Photo: 1 },
    tells: { check: 'fuel-leaks', forBuyer: true },
  },
  sayReady: {
    verb: 'ready:say',
    door: door(bikes.sayReadyAction),
    for: everyone,
    sends: async (shop) => ({
      id: uuidv7(),
      bike: await onBench(shop),
      point: 'certificate',
      note: 'No 4471',
    }),
    about: 'bike',
    wrong: { field: 'note', typed: ' ' },
    writes: { ReadyNote: 1 },
    tells: { point: 'certificate', note: 'No 4471' },
  },
  makeReady: {
    verb: 'bike:make-ready',
    door: door(bikes.makeReadyAction),
    for: money,
    sends: async (shop) => ({ bike: await allDone(shop), version: '1' }),
    about: 'bike',
    wrong: { field: 'bike', typed: 'the red one' },
    saw: 'Bike',
    writes: { Bike: 1 },
    tells: {},
  },
  noteRegister: {
    verb: 'identity:note',
    door: door(identity.noteRegisterAction),
    for: money,
    sends: async (shop) => ({
      ...{ id: uuidv7(), bike: (await takenIn(shop)).bike, register: 'finance', askedOf: 'by telephone' },
      ...{ day: testDay, answer: 'recorded', amount: '2,140.50', note: 'One agreement' },
    }),
    about: 'bike',
    wrong: { field: 'amount', typed: 'too much' },
    writes: { RegisterAsk: 1 },
    tells: { register: 'finance', answer: 'recorded', amountMinor: 214050 },
  },
  noteIdentity: {
    verb: 'identity:note',
    door: door(identity.noteIdentityAction),
    for: money,
    sends: async (shop) => ({
      ...{ id: uuidv7(), bike: (await takenIn(shop)).bike, point: 'keys', answer: 'counted', note: 'Two' },
    }),
    about: 'bike',
    wrong: { field: 'answer', typed: 'some' },
    writes: { IdentityNote: 1 },
    tells: { point: 'keys', answer: 'counted', note: 'Two' },
  },
  noteDistance: {
    verb: 'distance:note',
    door: door(identity.noteDistanceAction),
    for: everyone,
    sends: async (shop) => distanceOf((await takenIn(shop)).bike),
    about: 'bike',
    wrong: { field: 'day', typed: 'last May' },
    writes: { DistanceNote: 1 },
    tells: { day: '2024-05-02', distance: 28400, unit: 'mi', source: 'service' },
  },
  withdrawDistance: {
    verb: 'distance:note',
    door: door(identity.withdrawDistanceAction),
    for: everyone,
    sends: async (shop) => {
      const noted = distanceOf((await takenIn(shop)).bike)
      done(await noteDistance(noted, shop.technician))
      return { point: noted.id, reason: 'Of another bike' }
    },
    about: 'point',
    wrong: { field: 'reason', typed: ' ' },
    writes: { DistanceNote: 1 },
    tells: { reason: 'Of another bike' },
  },
  clearLock: {
    verb: 'lock:clear',
    door: door(checks.clearLockAction),
    for: manager,
    sends: async (shop) => {
      const { bike } = await takenIn(shop)
      await answer(shop.technician, { bike, answers: [['oil-level', 'none']] })
      return { bike, fault: 'oil-absent', for: 'ride', reason: 'Oil is in, the window is blind' }
    },
    about: 'bike',
    wrong: { field: 'for', typed: 'ever' },
    writes: { LockClearing: 1 },
    tells: { fault: 'oil-absent', for: 'ride' },
  },
  noteComparable: {
    verb: 'price:note',
    door: door(prices.noteComparableAction),
    for: money,
    sends: async (shop) => ({ id: uuidv7(), bike: (await takenIn(shop)).bike, ...priceOfForm }),
    about: 'bike',
    wrong: { field: 'price', typed: 'a good one' },
    writes: { Comparable: 1 },
    tells: { did: 'noted', market: 'trade', asked: true, priceMinor: 249500 },
  },
  correctComparable: {
    verb: 'price:note',
    door: door(prices.correctComparableAction),
    for: money,
    sends: async (shop) => ({ ...(await priced(shop)), ...priceOfForm, price: '2,395', alone: 'yes' }),
    about: 'comparable',
    wrong: { field: 'lastSeenOn', typed: 'last week' },
    saw: 'Comparable',
    writes: { Comparable: 1 },
    tells: { did: 'corrected', was: 249500, priceMinor: 239500, alone: true },
  },
  seeComparableAgain: {
    verb: 'price:note',
    door: door(prices.seeComparableAgainAction),
    for: money,
    sends: priced,
    about: 'comparable',
    wrong: { field: 'comparable', typed: 'the blue one' },
    saw: 'Comparable',
    writes: { Comparable: 1 },
    tells: { did: 'seen again', priceMinor: 249500, lastSeenOn: testDay },
  },
  withdrawComparable: {
    verb: 'price:note',
    door: door(prices.withdrawComparableAction),
    for: money,
    sends: async (shop) => ({ ...(await priced(shop)), reason: 'Another model' }),
    about: 'comparable',
    wrong: { field: 'reason', typed: ' ' },
    saw: 'Comparable',
    writes: { Comparable: 1 },
    tells: { did: 'taken back', priceMinor: 249500, reason: 'Another model' },
  },
  reckonWithNoted: {
    verb: 'bike:change',
    door: door(prices.reckonWithNotedAction),
    for: money,
    sends: async (shop) => {
      const { bike } = await priced(shop)
      return { bike, version: '1' }
    },
    about: 'bike',
    wrong: { field: 'bike', typed: 'the red one' },
    saw: 'Bike',
    writes: { Bike: 1 },
    tells: { changed: { saleLikelyMinor: { from: 235000, to: null } } },
  },
  importComparables: {
    verb: 'price:note',
    door: door(prices.importComparablesAction),
    for: money,
    sends: async (shop) => {
      const { bike } = await takenIn(shop)
      const table = priceTable([
        '',
        '',
        '',
        '',
        '1998',
        '',
        'mi',
        'tidy',
        'trade',
        'sold',
        '2300',
        '',
        testDay,
      ])
      const tried = done(await importComparables({ bike, table }, shop.dealer))
      return { bike, table: tried.table, seen: tried.seen }
    },
    about: 'bike',
    wrong: { field: 'table', typed: '' },
    writes: { Comparable: 1 },
    tells: { did: 'table taken in', added: 1, changed: 0 },
  },
  makeOffer: {
    verb: 'offer:make',
    door: door(bikes.makeOfferAction),
    for: money,
    sends: async (shop) => ({
      ...{ bike: (await takenIn(shop)).bike, version: '1', price: '1200', validUntil: '2026-12-02' },
    }),
    about: 'bike',
    wrong: { field: 'price', typed: 'a fair one' },
    saw: 'Bike',
    writes: { Bike: 1, Offer: 1 },
    tells: { priceMinor: 120000, validUntil: '2026-12-02' },
  },
  noteCounterOffer: {
    verb: 'offer:counter',
    door: door(offers.noteCounterOfferAction),
    for: money,
    sends: async (shop) => {
      const { bike } = await takenIn(shop)
      const made = { bike, version: '1', price: '1200', validUntil: '2026-12-02' }
      const { offer } = done(await makeOffer(made, shop.dealer))
      return { id: uuidv7(), offer, said: 'shop', amount: '1250', note: 'Two keys' }
    },
    about: 'offer',
    wrong: { field: 'amount', typed: 'a bit more' },
    writes: { Bike: 1, Offer: 1, CounterOffer: 1 },
    tells: { said: 'shop', amountMinor: 125000, note: 'Two keys', validUntil: '2026-12-02' },
  },
  noteOtherWays: {
    verb: 'ways:note',
    door: door(deal.noteOtherWaysAction),
    for: money,
    sends: async (shop) => ({
      ...{ bike: (await takenIn(shop)).bike, version: '0', stripHours: '6', breakCost: '40' },
      ...{ 'trade.low': '900', 'trade.likely': '1000', 'trade.high': '1100', wastePermit: 'yes' },
      ...{ 'parts.low': '', 'parts.likely': '', 'parts.high': '' },
    }),
    about: 'bike',
    wrong: { field: 'stripHours', typed: 'a day' },
    writes: { OtherWays: 1 },
    tells: { tradeLikelyMinor: 100000, stripHours: 6 },
  },
  keepWhatIf: {
    verb: 'what-if:keep',
    door: door(deal.keepWhatIfAction),
    for: money,
    sends: async (shop) => whatIfOf((await takenIn(shop)).bike),
    about: 'bike',
    wrong: { field: 'asking', typed: 'a lot' },
    writes: { WhatIf: 1 },
    tells: { name: 'Cheaper', asking: 90000, maxChanceOfLoss: 0.05, out: ['tank-reseal'] },
  },
  dropWhatIf: {
    verb: 'what-if:keep',
    door: door(deal.dropWhatIfAction),
    for: money,
    sends: async (shop) => {
      const { bike } = await takenIn(shop)
      const { 'out[]': out, ...sent } = whatIfOf(bike)
      done(await keepWhatIf({ ...sent, out: [out] }, shop.dealer))
      return { bike, whatIf: sent.id, version: '1' }
    },
    about: 'whatIf',
    wrong: { field: 'version', typed: 'one' },
    saw: 'WhatIf',
    writes: { WhatIf: 1 },
    tells: { dropped: 'Cheaper' },
  },
  buyBike: {
    verb: 'bike:buy',
    door: door(bikes.buyBikeAction),
    for: money,
    sends: async (shop) => {
      const { bike } = await takenIn(shop)
      await cleared(shop, bike)
      return { bike, version: '1', price: '1150', day: testDay }
    },
    about: 'bike',
    wrong: { field: 'price', typed: 'cash' },
    saw: 'Bike',
    writes: { Bike: 1, Purchase: 1 },
    tells: { stockNo: 1, priceMinor: 115000, day: testDay },
  },
  passUp: {
    verb: 'bike:pass-up',
    door: door(bikes.passUpAction),
    for: money,
    sends: async (shop) => ({ bike: (await takenIn(shop)).bike, version: '1', reason: 'Owed on' }),
    about: 'bike',
    wrong: { field: 'reason', typed: ' ' },
    saw: 'Bike',
    writes: { Bike: 1 },
    tells: { reason: 'Owed on' },
  },
  putOnBench: {
    verb: 'bike:put-on-bench',
    door: door(bikes.putOnBenchAction),
    for: manager,
    sends: async (shop) => {
      const { bike } = await takenIn(shop)
      await shop.store.db.bike.update({ where: { id: bike }, data: { stage: 'bought' } })
      return { bike, version: '1' }
    },
    about: 'bike',
    wrong: { field: 'bike', typed: 'the red one' },
    saw: 'Bike',
    writes: { Bike: 1 },
    tells: {},
  },
  backOnBench: {
    verb: 'bike:put-on-bench',
    door: door(bikes.backOnBenchAction),
    for: manager,
    sends: async (shop) => {
      const { bike } = await takenIn(shop)
      await shop.store.db.bike.update({ where: { id: bike }, data: { stage: 'ready' } })
      return { bike, version: '1', reason: 'It smokes' }
    },
    about: 'bike',
    wrong: { field: 'reason', typed: ' ' },
    saw: 'Bike',
    writes: { Bike: 1 },
    tells: { reason: 'It smokes' },
  },
  askPart: {
    verb: 'part:order',
    door: door(parts.askPartAction),
    for: money,
    sends: async (shop) => {
      const bike = await onBench(shop)
      return told.asking({ bike, supplier: await told.supplierOf(shop) })
    },
    about: 'bike',
    wrong: { field: 'price', typed: 'a few pounds' },
    writes: { PartLine: 1 },
    tells: {
      did: 'asked',
      what: 'Intake boot',
      qty: 4,
      supplier: 'Harle Spares',
      unitMinor: 1240,
      leadDays: 5,
    },
  },
  changeAsked: {
    verb: 'part:order',
    door: door(parts.changeAskedAction),
    for: money,
    sends: async (shop) => {
      const { line, supplier } = await told.asked(shop)
      const { id: _, job: __, part: ___, bike: ____, ...typed } = told.asking({ bike: '', supplier })
      return { ...typed, line, version: '1', price: '11.90', source: 'maker', neverShare: '30' }
    },
    about: 'line',
    wrong: { field: 'leadDays', typed: 'a week' },
    saw: 'PartLine',
    writes: { PartLine: 1 },
    tells: { did: 'changed', what: 'Intake boot', source: 'maker', unitMinor: 1190 },
  },
  takeOffList: {
    verb: 'part:order',
    door: door(parts.takeOffListAction),
    for: money,
    sends: async (shop) => ({ line: (await told.asked(shop)).line, version: '1', reason: 'Found some' }),
    about: 'line',
    wrong: { field: 'reason', typed: ' ' },
    saw: 'PartLine',
    writes: { PartLine: 1 },
    tells: { did: 'off the list', what: 'Intake boot', reason: 'Found some' },
  },
  orderParts: {
    verb: 'part:order',
    door: door(parts.orderPartsAction),
    for: money,
    sends: async (shop) => {
      const { line, supplier } = await told.asked(shop)
      const { lines, ...sent } = told.ordering(supplier, [line])
      return { ...sent, 'lines[]': lines }
    },
    about: 'supplier',
    wrong: { field: 'carriage', typed: 'the usual' },
    writes: { PartLine: 1, PartOrder: 1 },
    tells: {
      did: 'ordered',
      supplier: 'Harle Spares',
      parts: [{ what: 'Intake boot', qty: 4, dueOn: '2026-11-30' }],
      carriageMinor: 650,
    },
  },
  partArrived: {
    verb: 'part:note',
    door: door(parts.partArrivedAction),
    for: everyone,
    sends: async (shop) => ({ line: (await told.ordered(shop)).line, version: '2', qty: '4' }),
    about: 'line',
    wrong: { field: 'qty', typed: 'most' },
    saw: 'PartLine',
    writes: { PartLine: 1, Spend: 1 },
    tells: { did: 'arrived', what: 'Intake boot', qty: 4 },
  },
  partAtHand: {
    verb: 'part:note',
    door: door(parts.partAtHandAction),
    for: everyone,
    sends: async (shop) => ({
      ...{ id: uuidv7(), bike: await onBench(shop), job: 'fuel-drained', part: 'Petrol', qty: '1' },
    }),
    about: 'bike',
    wrong: { field: 'qty', typed: 'a can' },
    writes: { PartLine: 1 },
    tells: { did: 'at hand', what: 'Petrol', qty: 1 },
  },
  notAtHand: {
    verb: 'part:note',
    door: door(parts.notAtHandAction),
    for: everyone,
    sends: async (shop) => {
      const had = { id: uuidv7(), bike: await onBench(shop), job: 'fuel-drained', part: 'Petrol', qty: '1' }
      done(await partAtHand(had, shop.technician))
      return { line: had.id, version: '1' }
    },
    about: 'line',
    wrong: { field: 'line', typed: 'the petrol' },
    saw: 'PartLine',
    writes: { PartLine: 1 },
    tells: { did: 'not at hand', what: 'Petrol', qty: 1 },
  },
  partWrong: {
    verb: 'part:note',
    door: door(parts.partWrongAction),
    for: everyone,
    sends: async (shop) => ({ line: (await told.ordered(shop)).line, version: '2', note: 'For the 900' }),
    about: 'line',
    wrong: { field: 'note', typed: ' ' },
    saw: 'PartLine',
    writes: { PartLine: 1 },
    tells: { did: 'wrong', what: 'Intake boot', note: 'For the 900' },
  },
  partNever: {
    verb: 'part:order',
    door: door(parts.partNeverAction),
    for: money,
    sends: async (shop) => ({ line: (await told.ordered(shop)).line, version: '2', note: 'No longer made' }),
    about: 'line',
    wrong: { field: 'note', typed: ' ' },
    saw: 'PartLine',
    writes: { PartLine: 1 },
    tells: { did: 'never', what: 'Intake boot', note: 'No longer made' },
  },
  settleWrong: {
    verb: 'part:order',
    door: door(parts.settleWrongAction),
    for: money,
    sends: async (shop) => ({
      ...{ line: (await told.cameWrong(shop)).line, version: '3', outcome: 'sent back', note: 'By post' },
    }),
    about: 'line',
    wrong: { field: 'outcome', typed: 'lost' },
    saw: 'PartLine',
    writes: { PartLine: 1 },
    tells: { did: 'sent back', what: 'Intake boot', note: 'By post' },
  },
  sendOut: {
    verb: 'part:note',
    door: door(parts.sendOutAction),
    for: everyone,
    sends: async (shop) => told.sending(await onBench(shop)),
    about: 'bike',
    wrong: { field: 'dueOn', typed: 'in a fortnight' },
    writes: { SentOut: 1 },
    tells: { did: 'sent out', what: 'Both fork tubes', whoHas: 'Sallow Plating', dueOn: '2026-12-09' },
  },
  moveDueBack: {
    verb: 'part:note',
    door: door(parts.moveDueBackAction),
    for: everyone,
    sends: async (shop) => ({
      ...{ sent: (await told.isOut(shop)).sent, version: '1', dueOn: '2026-12-16', note: 'Bath is full' },
    }),
    about: 'sent',
    wrong: { field: 'dueOn', typed: 'later' },
    saw: 'SentOut',
    writes: { SentOut: 1 },
    tells: { did: 'due back', from: '2026-12-09', dueOn: '2026-12-16' },
  },
  cameBack: {
    verb: 'part:note',
    door: door(parts.cameBackAction),
    for: everyone,
    sends: async (shop) => ({ sent: (await told.isOut(shop)).sent, version: '1', note: 'Bright' }),
    about: 'sent',
    wrong: { field: 'sent', typed: 'the tubes' },
    saw: 'SentOut',
    writes: { SentOut: 1, Spend: 1 },
    tells: { did: 'came back', what: 'Both fork tubes', whoHas: 'Sallow Plating' },
  },
  askOutside: {
    verb: 'part:order',
    door: door(parts.askOutsideAction),
    for: money,
    sends: async (shop) => ({ sent: (await told.isOut(shop)).sent, version: '1', amount: '145' }),
    about: 'sent',
    wrong: { field: 'amount', typed: 'the usual' },
    saw: 'SentOut',
    writes: { SentOut: 1 },
    tells: { did: 'outside asked', what: 'Both fork tubes', amountMinor: 14500 },
  },
  putOnShelf: {
    verb: 'part:note',
    door: door(parts.putOnShelfAction),
    for: everyone,
    sends: async (shop) => told.shelving(await onBench(shop)),
    about: 'bike',
    wrong: { field: 'condition', typed: 'fine' },
    writes: { ShelfPart: 1 },
    tells: { did: 'on the shelf', what: 'Intake boot', qty: 4, fits: 'Calder 600 four' },
  },
  takeOffShelf: {
    verb: 'part:note',
    door: door(parts.takeOffShelfAction),
    for: everyone,
    sends: async (shop) => ({ shelf: (await told.shelved(shop)).shelf, version: '1', reason: 'Perished' }),
    about: 'shelf',
    wrong: { field: 'reason', typed: ' ' },
    saw: 'ShelfPart',
    writes: { ShelfPart: 1 },
    tells: { did: 'off the shelf', what: 'Intake boot', note: 'Perished' },
  },
  fitFromShelf: {
    verb: 'part:note',
    door: door(parts.fitFromShelfAction),
    for: everyone,
    sends: async (shop) => {
      const { bike, shelf } = await told.shelved(shop)
      return { id: uuidv7(), shelf, bike, job: 'intake-boots', part: 'Intake boot', qty: '4' }
    },
    about: 'shelf',
    wrong: { field: 'qty', typed: 'a pair' },
    writes: { PartLine: 1 },
    tells: { did: 'from the shelf', what: 'Intake boot', qty: 4 },
  },
  backOnShelf: {
    verb: 'part:note',
    door: door(parts.backOnShelfAction),
    for: everyone,
    sends: async (shop) => {
      const { bike, shelf } = await told.shelved(shop)
      const used = { id: uuidv7(), shelf, bike, job: 'intake-boots', part: 'Intake boot', qty: '4' }
      done(await fitFromShelf(used, shop.technician))
      return { line: used.id, version: '1' }
    },
    about: 'line',
    wrong: { field: 'line', typed: 'the boots' },
    saw: 'PartLine',
    writes: { PartLine: 1 },
    tells: { did: 'back on the shelf', what: 'Intake boot', qty: 4 },
  },
  promiseDay: {
    verb: 'plan:set',
    door: door(plan.promiseDayAction),
    for: manager,
    sends: async (shop) => {
      const bike = await onBench(shop)
      done(await promiseDay({ bike, version: 0, day: '2026-12-10', note: '' }, shop.manager))
      return { bike, version: '1', day: '2026-12-04', note: 'The buyer from the show' }
    },
    about: 'bike',
    wrong: { field: 'day', typed: 'Friday week' },
    saw: 'Promised',
    writes: { Promised: 1 },
    tells: { did: 'promised', day: '2026-12-04' },
  },
  pinTask: {
    verb: 'plan:set',
    door: door(plan.pinTaskAction),
    for: manager,
    sends: async (shop) => ({
      ...{ id: uuidv7(), bike: await onBench(shop), task: 'job:front-pads' },
      ...{ day: '2026-11-27', at: '10:30', doer: '' },
    }),
    about: 'bike',
    wrong: { field: 'at', typed: 'after lunch' },
    writes: { PlanPin: 1 },
    tells: { did: 'pinned', title: 'Front pads, both calipers', day: '2026-11-27', minute: 630, doer: null },
  },
  unpinTask: {
    verb: 'plan:set',
    door: door(plan.unpinTaskAction),
    for: manager,
    sends: async (shop) => {
      const bike = await onBench(shop)
      const pin = { id: uuidv7(), bike, task: 'job:front-pads', day: '2026-11-27', at: '10:30', doer: '' }
      done(await pinTask(pin, shop.manager))
      return { bike, task: pin.task }
    },
    about: 'bike',
    wrong: { field: 'task', typed: ' ' },
    writes: { PlanPin: 1 },
    tells: { did: 'unpinned' },
  },
}
