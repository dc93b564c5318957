import type { z } from 'zod'
import { appendEvent } from '../data/events'
import type { Store, Tx } from '../data/store'
import { parseInput } from './parse-input'
import { type PlainRefusal, Refusal, refuse } from './refusal'
import { may, type PersonVerb, type Role, type Verb, whoMay } from './who-may'

export type Who = {
  personId: string
  name: string
  /** On the seller's side those of a technician, whatever the person's own are. */
  roles: readonly Role[]
  deviceId: string | null
  /** The seller looks on: nothing of the shop's side is shown until the PIN is given again. */
  sellerSide?: true
}

/** Who acts, when, and in which shop: always handed in, never ambient. */
export type Context = {
  store: Store
  now: Date
  who: Who | null
  deviceId: string | null
  /** Set where a tablet sends a deed that it may have sent before: done once, answered alike each time. */
  operation?: Operation
  /** Who was signed in when it was sent, where that need not be who did it. */
  sentById?: string
  /** How far the clock of the device that recorded it is ahead of ours, in milliseconds; null or not set: unknown. */
  clockAheadMs?: number | null
}

export type Operation = {
  id: string
  bodyHash: string
  /** The number of the contract the device spoke. */
  contract: number
}

export type Inside = {
  tx: Tx
  now: Date
  who: Who
  deviceId: string | null
  clockAheadMs: number | null
}

type OneEvent = { bikeId: string | null; body: unknown }

/**
 * What a deed did: its answer, and what the event says. An event of `null` is for a deed that changed nothing, several
 * are for one that is part of the story of several bikes.
 */
export type Done<R> = { answer: R; event: OneEvent | readonly OneEvent[] | null }

export type DeedResult<R> = { ok: true; answer: R } | { ok: false; refusal: PlainRefusal }

export type Deed<S extends z.ZodType, R> = {
  verb: Verb
  input: S
  (input: unknown, context: Context): Promise<DeedResult<R>>
}

type Parts<S extends z.ZodType, P, R> = {
  /** What must be awaited before the transaction: a hash, a picture. Nothing else is awaited inside one. */
  prepare: (input: z.output<S>, context: Context) => Promise<P>
  work: (input: z.output<S>, inside: Inside, prepared: P) => Promise<Done<R>>
}

/** Nobody is signed in yet where a code or an enrolled device is enough. */
const nobody: Who = { personId: '', name: '', roles: [], deviceId: null }

/**
 * The one way anything changes: checks who may, then the input, then opens the transaction in which the work
 * and its event are written together. A refusal thrown inside is turned into a plain result here and nowhere
 * else; any other error is a fault and travels on.
 */
export function deed<S extends z.ZodType, R>(
  verb: Verb,
  input: S,
  work: (input: z.output<S>, inside: Inside) => Promise<Done<R>>,
): Deed<S, R>
export function deed<S extends z.ZodType, P, R>(verb: Verb, input: S, parts: Parts<S, P, R>): Deed<S, R>
export function deed<S extends z.ZodType, P, R>(
  verb: Verb,
  input: S,
  given: Parts<S, P, R> | ((input: z.output<S>, inside: Inside) => Promise<Done<R>>),
): Deed<S, R> {
  const parts: Parts<S, P, R> =
    typeof given === 'function' ? { prepare: async () => undefined as P, work: given } : given

  async function run(raw: unknown, context: Context): Promise<DeedResult<R>> {
    try {
      const who = requireMay(verb, context)
      const parsed = parseInput(input, raw)
      const prepared = await parts.prepare(parsed, context)
      const { now, deviceId, store, operation, sentById, clockAheadMs = null } = context
      const answer = await store.transaction(async (tx) => {
        const before = operation && (await answeredBefore<R>(tx, operation))
        if (before) return before.answer
        const done = await parts.work(parsed, { tx, now, who, deviceId, clockAheadMs }, prepared)
        for (const event of [done.event ?? []].flat())
          await writeEvent(tx, { verb, who, deviceId, now, event: withSender(event, who, sentById) })
        if (operation) {
          const by = { authorId: who.personId, sentById: sentById ?? who.personId, deviceId }
          await keepAnswer(tx, { operation, now, by, answer: done.answer })
        }
        return done.answer
      })
      return { ok: true, answer }
    } catch (error) {
      if (error instanceof Refusal) return { ok: false, refusal: error.plain }
      throw error
    }
  }
  return Object.assign(run, { verb, input })
}

function requireMay(verb: Verb, { who, deviceId }: Context): Who {
  const allowed = may[verb]
  if (allowed === 'code') return who ?? nobody
  if (allowed === 'device') {
    if (!deviceId) refuse('not-signed-in', 'This device is not enrolled yet. Ask a manager for a code.')
    return who ?? nobody
  }
  if (!who) refuse('not-signed-in', 'Sign in to go on.')
  if (!whoMay(who, verb as PersonVerb)) {
    refuse('not-allowed', 'Your role does not allow this. Ask a manager.', {
      log: `${who.name} tried ${verb}`,
    })
  }
  return who
}

async function answeredBefore<R>(tx: Tx, operation: Operation): Promise<{ answer: R } | null> {
  const row = await tx.operation.findUnique({ where: { id: operation.id } })
  if (!row) return null
  if (row.bodyHash !== operation.bodyHash) {
    refuse('malformed', 'This was sent before with other content. Record it again.', {
      log: `operation ${operation.id} came twice with different bodies`,
    })
  }
  return { answer: JSON.parse(row.answer) as R }
}

async function keepAnswer(
  tx: Tx,
  given: {
    operation: Operation
    now: Date
    by: { authorId: string; sentById: string; deviceId: string | null }
    answer: unknown
  },
): Promise<void> {
  const { operation, now, by, answer } = given
  await tx.operation.create({ data: { ...operation, answer: JSON.stringify(answer), at: now, ...by } })
}

/** The event is its author's; where another person sent it, it says who. */
function withSender(event: OneEvent, who: Who, sentById: string | undefined): OneEvent {
  if (sentById === undefined || sentById === who.personId) return event
  return { ...event, body: { ...(event.body as object), sentBy: sentById } }
}

async function writeEvent(
  tx: Tx,
  given: {
    verb: Verb
    who: Who
    deviceId: string | null
    now: Date
    event: OneEvent
  },
): Promise<void> {
  const { verb, who, deviceId, now, event } = given
  await appendEvent(tx, {
    at: now,
    personId: who.personId || null,
    deviceId,
    verb,
    bikeId: event.bikeId,
    body: event.body,
  })
}

/**
 * Refuses a save that saw an older version, and hands back what is stored now so that the person sees both.
 * `count` is what `updateMany` with the version in its condition answered.
 */
export function requireFresh(count: number, theirs: Record<string, string>): void {
  if (count > 0) return
  refuse('stale', 'Somebody else changed this while you were typing. Look at both and save again.', {
    theirs,
  })
}
