import { z } from 'zod'
import { bodyHash } from '../data/hash'
import { setBikeLimit } from './bike-limit'
import type { Context, DeedResult, Who } from './deed'
import { idOf } from './fields'
import { recordReading } from './record-reading'
import type { PlainRefusal } from './refusal'

/** The deeds a tablet may keep and send later, by the name it sends. */
const syncDeeds = {
  'record-reading': recordReading,
  'set-bike-limit': setBikeLimit,
} as const

export const syncNames = Object.keys(syncDeeds) as [keyof typeof syncDeeds, ...(keyof typeof syncDeeds)[]]

/** How many operations one request may carry. */
export const mostOperations = 200

const operation = z.strictObject({
  id: idOf,
  /** Who recorded it: another person who has signed in since does not send it under his own name. */
  author: idOf,
  deed: z.enum(syncNames),
  body: z.unknown(),
})

export const syncInput = z.strictObject({ operations: z.array(operation).min(1).max(mostOperations) })

export type SyncOperation = z.output<typeof operation>
export type SyncAnswer =
  | { id: string; ok: true; answer: unknown }
  | { id: string; ok: false; refusal: PlainRefusal }

/**
 * Does what a tablet kept, in the order it was recorded, each in its own transaction under its own id: sent
 * twice it is done once and answered alike. A refusal of one does not stop the next.
 */
export async function sync(
  { operations }: z.output<typeof syncInput>,
  context: Context & { who: Who },
): Promise<SyncAnswer[]> {
  const answers: SyncAnswer[] = []
  for (const one of operations) {
    if (one.author !== context.who.personId) {
      answers.push({ id: one.id, ok: false, refusal: othersOperation })
      continue
    }
    const result = await runOperation(one, context)
    answers.push({ id: one.id, ...result })
  }
  return answers
}

const othersOperation: PlainRefusal = {
  kind: 'not-signed-in',
  message: 'Somebody else recorded this. It is sent when they sign in on this device.',
  fields: {},
}

function runOperation(one: SyncOperation, context: Context): Promise<DeedResult<unknown>> {
  const { id, author, deed, body } = one
  return syncDeeds[deed](body, { ...context, operation: { id, bodyHash: bodyHash({ author, deed, body }) } })
}
