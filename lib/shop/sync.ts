import { z } from 'zod'
import { bodyHash } from '../data/hash'
import type { Store } from '../data/store'
import { setBikeLimit } from './bike-limit'
import { noteComparable } from './comparables'
import { noteCounterOffer } from './counter-offer'
import type { Context, DeedResult, Who } from './deed'
import { idOf } from './fields'
import { makeOfferAway } from './make-offer-away'
import { markPhoto } from './mark-photo'
import { parseInput } from './parse-input'
import { recordReading } from './record-reading'
import { type PlainRefusal, refuse } from './refusal'
import { sayPrices } from './say-prices'
import { takeBackPhoto } from './take-back-photo'
import { takeInBike } from './take-in-bike'
import { type PersonVerb, type Role, whoMay } from './who-may'

/** The deeds a tablet may keep and send later, by the name it sends. */
export const syncDeeds = {
  'record-reading': recordReading,
  'set-bike-limit': setBikeLimit,
  'take-back-photo': takeBackPhoto,
  'mark-photo': markPhoto,
  'take-in-viewing': takeInBike,
  'say-prices': sayPrices,
  'note-price': noteComparable,
  'make-offer': makeOfferAway,
  'counter-offer': noteCounterOffer,
} as const

export const syncNames = Object.keys(syncDeeds) as [keyof typeof syncDeeds, ...(keyof typeof syncDeeds)[]]

/** How many operations one request may carry. */
export const mostOperations = 200

/** More than any queue holds, and what fits the column. */
const mostWaiting = 1_000_000

const operation = z.strictObject({
  id: idOf,
  /** Who recorded it: whoever is signed in when it is sent does not become its author. */
  author: idOf,
  deed: z.enum(syncNames),
  body: z.unknown(),
})

const operations = z.array(operation).min(1).max(mostOperations)

/** What tablets of the first builds send. It is taken for ever: a tablet may come back after months. */
const contract1 = z.strictObject({ contract: z.literal(1).optional(), operations })

const contract2 = z.strictObject({
  contract: z.literal(2),
  /** By the clock of the device, at the moment of sending: tells how far that clock is off. */
  sentAt: z.iso.datetime({ offset: true }),
  /** How many things still wait on the device, these among them. */
  waiting: z.int().min(0).max(mostWaiting),
  operations,
})

export const syncInput = z.discriminatedUnion('contract', [contract2, contract1])

/** The contract this server speaks; a tablet that speaks an older one is understood. One more deed is no new shape. */
export const syncContract = 2

export type SyncInput = z.output<typeof syncInput>
export type SyncOperation = z.output<typeof operation>
export type SyncAnswer =
  | { id: string; ok: true; answer: unknown }
  | { id: string; ok: false; refusal: PlainRefusal }

/**
 * Does what a tablet kept, in the order it was recorded, each in its own transaction under its own id: sent
 * twice it is done once and answered alike. A refusal of one does not stop the next.
 */
export async function sync(input: SyncInput, context: Context & { who: Who }): Promise<SyncAnswer[]> {
  const clockAheadMs = input.contract === 2 ? aheadOf(input.sentAt, context.now) : null
  const sent = { contract: input.contract ?? 1, clockAheadMs }
  const authors = new Map<string, Promise<Who | null>>()
  const answers: SyncAnswer[] = []
  for (const one of input.operations) {
    const author = authors.get(one.author) ?? authorOf(one.author, context)
    authors.set(one.author, author)
    answers.push({ id: one.id, ...(await runOperation(one, { context, author: await author, sent })) })
  }
  if (input.contract === 2) {
    const done = answers.filter(({ ok }) => ok).length
    await noteDevice(context, { clockAheadMs, waiting: Math.max(input.waiting - done, 0) })
  }
  return answers
}

/** A page of a newer build than this server: what it sends is kept there until the server is as new. */
export function requireKnownContract(raw: unknown): void {
  const { contract } = (raw ?? {}) as { contract?: unknown }
  if (typeof contract === 'number' && contract > syncContract) {
    refuse('too-soon', 'This page is newer than the server. What you record is kept here until they agree.', {
      waitSeconds: 60,
    })
  }
}

/** How far a device's clock is ahead of ours, kept within what the column holds: some 24 days. */
export function aheadOf(sentAt: string, now: Date): number {
  const ahead = new Date(sentAt).getTime() - now.getTime()
  return Math.max(-(2 ** 31 - 1), Math.min(2 ** 31 - 1, ahead))
}

const strangersOperation: PlainRefusal = {
  kind: 'not-allowed',
  message:
    'Whoever recorded this has left or never signed in on this device, so it cannot go in under that name. Record it again under your own.',
  fields: {},
}

/** What a seller who looks on may not do is kept until the person is back on the shop's side. */
const notBesideTheSeller: PlainRefusal = {
  kind: 'not-signed-in',
  message: 'The seller looks on. This goes out once you are back on your side.',
  fields: {},
}

/** What not everybody may do is kept until its author signs in: a device is no proof of who did it. */
const waitsForAuthor: PlainRefusal = {
  kind: 'not-signed-in',
  message: 'This goes out once whoever did it signs in here.',
  fields: {},
}

/** What everybody in the shop may do, and no more, is done for somebody who is not signed in. */
const atTheBench: readonly Role[] = ['technician']

/**
 * Who a thing that lies on this device was done by: whoever is signed in, with the roles of this session, or somebody
 * who was signed in on this very device at some time and still works here. That it was really they nobody proves, so
 * nothing goes in under their name that not everybody may do. Null for anybody else.
 */
export async function authorOf(
  author: string,
  { who, deviceId, store }: Context & { who: Who },
): Promise<Who | null> {
  if (author === who.personId) return who
  const session = await store.db.session.findFirst({
    where: { personId: author, deviceId: deviceId ?? '', person: { leftAt: null } },
    include: { person: true },
  })
  return session && { personId: author, name: session.person.name, roles: atTheBench, deviceId }
}

const photoSending = z.object({
  author: idOf.optional(),
  sentAt: z.iso.datetime({ offset: true }).optional(),
})

/**
 * A photo goes by itself, with its author and the moment of its sending among its facts: the context to add it in,
 * and what is left of the facts. Without them it is of whoever is signed in.
 */
export async function photoContext(
  facts: Readonly<Record<string, string>>,
  context: Context & { who: Who },
): Promise<{ facts: Record<string, string>; context: Context }> {
  const { author, sentAt, ...rest } = facts
  const sending = parseInput(photoSending, { author, sentAt })
  const who = await authorOf(sending.author ?? context.who.personId, context)
  if (!who) return refuse(strangersOperation.kind, strangersOperation.message)
  const clockAheadMs = sending.sentAt ? aheadOf(sending.sentAt, context.now) : null
  return { facts: rest, context: { ...context, who, sentById: context.who.personId, clockAheadMs } }
}

/** What a manager sees of a device: when it was last heard, how its clock goes, what still lies on it. */
async function noteDevice(
  { store, deviceId, now }: { store: Store; deviceId: string | null; now: Date },
  said: { clockAheadMs: number | null; waiting: number },
): Promise<void> {
  if (deviceId === null) return
  await store.db.device.updateMany({ where: { id: deviceId }, data: { lastSyncAt: now, ...said } })
}

async function runOperation(
  one: SyncOperation,
  given: {
    context: Context & { who: Who }
    author: Who | null
    sent: { contract: number; clockAheadMs: number | null }
  },
): Promise<DeedResult<unknown>> {
  const { context, author, sent } = given
  const { id, deed, body } = one
  if (!author) return { ok: false, refusal: strangersOperation }
  if (!whoMay(author, syncDeeds[deed].verb as PersonVerb)) {
    if (author !== context.who) return { ok: false, refusal: waitsForAuthor }
    if (author.sellerSide) return { ok: false, refusal: notBesideTheSeller }
  }
  return syncDeeds[deed](body, {
    ...context,
    who: author,
    sentById: context.who.personId,
    clockAheadMs: sent.clockAheadMs,
    operation: { id, bodyHash: bodyHash({ author: one.author, deed, body }), contract: sent.contract },
  })
}
