import { coreVersion } from '../core/board/version'
import type { Condition } from '../core/checks/catalogue'
import type { ReadingKind } from '../core/checks/reading'
import { bikeColumns, priceColumns, sayPricesInput, takeInBikeInput } from './bike-fields'
import { comparableColumns, noteComparableInput } from './comparable-fields'
import { dayIn } from './instants'
import { instrumentTaken } from './instrument-taken'
import { isNotedFor, type NotedRow } from './noted-prices'
import type { OfferSheet } from './offer-sheet'
import type { BikeInPack, Pack, ViewingInPack } from './pack'

/*
 * What was done away from the shop, laid over what the phone keeps of it: row by row what the deeds will write once
 * it is sent.
 */

/** The number of a viewing that the server has not seen yet: it draws them. */
export const notNumbered = 0

/** What was done on the phone, as it is sent. Its id is a UUIDv7. */
export type DeedAway = { id: string; deed: string; body: Readonly<Record<string, unknown>> }

/** What an offer that was made on the phone is sent with. */
export type OfferMade = {
  at: string
  figuresNo: number
  coreVersion: string
  walkAway: number | null
  sheet: OfferSheet
}

export type Seen = {
  viewings: readonly ViewingInPack[]
  noted: readonly NotedRow[]
}

/** The viewings and noted prices as the phone knows them, deeds in the order they were done. */
export function seenAway(pack: Pack, deeds: readonly DeedAway[]): Seen {
  const isIn = new Set(pack.done)
  return deeds.filter(({ id }) => !isIn.has(id)).reduce<Seen>((seen, one) => laidOver(seen, one, pack), pack)
}

/** The instant at which a UUIDv7 was made, which its first 48 bits say in milliseconds. */
export function madeAt(id: string): Date {
  return new Date(Number.parseInt(id.replaceAll('-', '').slice(0, 12), 16))
}

/** Of what prices are noted, those that count for one bike. */
export function notedOf({ noted }: Seen, { bike }: ViewingInPack): NotedRow[] {
  return noted.filter((row) => isNotedFor(row, bike)).sort((a, b) => (a.id < b.id ? -1 : 1))
}

function laidOver(seen: Seen, one: DeedAway, pack: Pack): Seen {
  if (one.deed === 'take-in-viewing') return withViewing(seen, one, pack)
  if (one.deed === 'note-price') return withPrice(seen, one, pack)
  const change = changes[one.deed]
  if (!change) return seen
  return {
    ...seen,
    viewings: seen.viewings.map((viewing) => (isAbout(viewing, one) ? change(viewing, one, pack) : viewing)),
  }
}

/** Whether something that was done away is about a viewing. */
export function isAbout({ bike }: ViewingInPack, { deed, body }: Pick<DeedAway, 'deed' | 'body'>): boolean {
  if (deed === 'take-in-viewing') return body.id === bike.id
  if (deed === 'counter-offer') return bike.offers.some(({ id }) => id === body.offer)
  return body.bike === bike.id
}

type Change = (viewing: ViewingInPack, one: DeedAway, pack: Pack) => ViewingInPack

const changes: Readonly<Record<string, Change>> = {
  'say-prices': (viewing, { body }) => {
    const { was: _, bike: __, ...said } = sayPricesInput.parse(body)
    return withBike(viewing, priceColumns(said))
  },
  'record-reading': withReading,
  'set-bike-limit': withLimit,
  'make-offer': withOffer,
  'counter-offer': withCounter,
}

function withBike(viewing: ViewingInPack, changed: Partial<BikeInPack>): ViewingInPack {
  return { ...viewing, bike: { ...viewing.bike, ...changed } }
}

function withViewing(seen: Seen, { id: deedId, body }: DeedAway, { person }: Pack): Seen {
  const { id, ...facts } = takeInBikeInput.parse(body)
  if (seen.viewings.some(({ bike }) => bike.id === id)) return seen
  const bike: BikeInPack = {
    id,
    viewingNo: notNumbered,
    stockNo: null,
    stage: 'viewing',
    ...bikeColumns(facts),
    version: 1,
    createdAt: madeAt(deedId),
    createdBy: person.id,
    ...{ readings: [], decisions: [], clearings: [], jobRuns: [], openStates: [], rides: [], spends: [] },
    ...{ partLines: [], sentOut: [], offers: [], photos: [], distances: [], registers: [], identity: [] },
    ...{ purchase: null, plannedReady: null, otherWays: null },
  }
  return { ...seen, viewings: [...seen.viewings, { bike, ownLimits: [], limitIds: [] }] }
}

function withPrice(seen: Seen, { id: deedId, body }: DeedAway, { person, shop }: Pack): Seen {
  const { id, bike: bikeId, alone, ...typed } = noteComparableInput.parse(body)
  const about = seen.viewings.find(({ bike }) => bike.id === bikeId)?.bike
  if (!about || seen.noted.some((row) => row.id === id)) return seen
  const { make, makeKey, model, modelKey } = about
  const at = madeAt(deedId)
  const row: NotedRow = {
    id,
    bikeId: alone ? bikeId : null,
    ...{ make, makeKey, model, modelKey },
    ...comparableColumns(typed, dayIn(shop.zone, at)),
    personId: person.id,
    at,
    withdrawnAt: null,
    version: 1,
  }
  return { ...seen, noted: [...seen.noted, row] }
}

/** A reading as the sheet sends it. */
type ReadingSent = {
  id: string
  check: string
  position: string | null
  kind: ReadingKind
  value: string
  unit: string | null
  conditions: readonly Condition[]
  instrument: string | null
  engineSpeed: number | null
  note: string | null
  takenAt: string
  supersedes: string | null
}

function withReading(viewing: ViewingInPack, { body }: DeedAway, pack: Pack): ViewingInPack {
  const { bike } = viewing
  const sent = body as ReadingSent
  if (bike.readings.some(({ id }) => id === sent.id)) return viewing
  const { conditions, instrument: key, takenAt, ...plain } = sent
  const row: BikeInPack['readings'][number] = {
    ...plain,
    bikeId: bike.id,
    conditions: conditions.length > 0 ? JSON.stringify(conditions) : null,
    instrument: instrumentOf(sent, pack),
    takenAt: new Date(takenAt),
    receivedAt: new Date(takenAt),
    personId: pack.person.id,
    deviceId: null,
    clockAheadMs: null,
    // Its place among the shop's readings, and the hash of its row, are the server's to say.
    seq: (bike.readings.at(-1)?.seq ?? 0) + 1,
    hash: '',
  }
  return withBike(viewing, { readings: [...bike.readings, row] })
}

function instrumentOf({ check: key, instrument }: ReadingSent, { shop, instruments }: Pack): string | null {
  const check = shop.catalogue.checks.find((one) => one.key === key)
  if (instrument === null || check?.sort !== 'measured') return null
  const tool = instruments.find((one) => one.key === instrument)
  const own = tool && { ...tool, kind: tool.of, calibrationDue: tool.calibrationDue ?? null }
  const taken = instrumentTaken(check, { key: instrument, own: own ?? null })
  return taken && JSON.stringify(taken)
}

/** A limit for one bike as the sheet sends it. */
type LimitSent = {
  id: string
  check: string
  position: string | null
  min: number | null
  max: number | null
  asNew: number | null
  saleMin: number | null
  saleMax: number | null
  unit: string
  source: string
  note: string | null
}

function withLimit(viewing: ViewingInPack, { id: deedId, body }: DeedAway, { person }: Pack): ViewingInPack {
  const { note, ...sent } = body as LimitSent
  const { bike, ownLimits, limitIds } = viewing
  if (limitIds.includes(sent.id)) return viewing
  const row: ViewingInPack['ownLimits'][number] = {
    ...sent,
    scope: 'bike',
    bikeId: bike.id,
    ...{ makeKey: null, modelKey: null, yearFrom: null, yearTo: null },
    sourceNote: note ?? '',
    personId: person.id,
    at: madeAt(deedId),
    withdrawnAt: null,
    version: 1,
  }
  const others = ownLimits.filter((one) => one.check !== row.check || one.position !== row.position)
  return { ...viewing, ownLimits: [...others, row], limitIds: [...limitIds, row.id] }
}

type OfferSent = { id: string; price: number; validUntil: string; subjectTo: string; made: OfferMade }

function withOffer(viewing: ViewingInPack, { body }: DeedAway, { person }: Pack): ViewingInPack {
  const { id, price, validUntil, subjectTo, made } = body as OfferSent
  const { offers } = viewing.bike
  if (offers.some((offer) => offer.id === id)) return viewing
  const row: BikeInPack['offers'][number] = {
    id,
    bikeId: viewing.bike.id,
    priceMinor: price,
    ...{ validUntil, subjectTo },
    // What it was worked out from is on the phone as it was; the server writes it down with the offer.
    ...{ input: 'null', output: 'null', coreVersion },
    sheet: JSON.stringify(made.sheet),
    personId: person.id,
    at: new Date(made.at),
    counters: [],
  }
  return withBike(viewing, { stage: 'offered', offers: [row, ...offers] })
}

function withCounter(
  viewing: ViewingInPack,
  { id: deedId, body }: DeedAway,
  { person }: Pack,
): ViewingInPack {
  const {
    id,
    offer: offerId,
    said,
    amount,
    note,
  } = body as {
    id: string
    offer: string
    said: string
    amount: number
    note: string | null
  }
  const at = madeAt(deedId)
  const row = { id, offerId, said, amountMinor: amount, note: note ?? '', personId: person.id, at }
  return withBike(viewing, {
    offers: viewing.bike.offers.map((offer) =>
      offer.id === offerId && !offer.counters.some((one) => one.id === id)
        ? { ...offer, counters: [...offer.counters, row] }
        : offer,
    ),
  })
}
