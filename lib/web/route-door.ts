import type { Context, Who } from '../shop/deed'
import { type PlainRefusal, Refusal, type RefusalKind, refuse } from '../shop/refusal'
import { type PersonVerb, whoMay } from '../shop/who-may'
import { markDoor } from './door-mark'
import { originFacts } from './form-door'
import { contextOf, cookieOf } from './request-context'
import { isSameOrigin } from './same-origin'

/** The one table from a refusal to the status of its answer. */
export const statusOf = {
  'not-signed-in': 401,
  'not-allowed': 403,
  'not-found': 404,
  stale: 409,
  malformed: 422,
  rule: 422,
  'too-soon': 429,
} as const satisfies Record<RefusalKind, number>

export type Asked<P> = {
  request: Request
  params: P
  context: Context & { who: Who }
}

type Handler<P> = (request: Request, given: { params: Promise<P> }) => Promise<Response>

/**
 * The door for route handlers: origin, session and role before the work, one error shape after it. What is
 * read by the handler belongs to the person it was read for, so nothing is cached.
 */
export function routeDoor<P = Record<string, never>>(
  verb: PersonVerb,
  work: (asked: Asked<P>) => Promise<Response>,
): Handler<P> {
  const handler: Handler<P> = async (request, { params }) => {
    try {
      const facts = originFacts((name) => request.headers.get(name))
      if (!isSameOrigin({ method: request.method, ...facts })) {
        refuse('not-allowed', 'This was sent from somewhere else. Load the page again.')
      }
      const context = await contextOf(cookieOf(request))
      const { who } = context
      if (!who) return refuse('not-signed-in', 'Sign in to go on.')
      if (!whoMay(who, verb)) refuse('not-allowed', 'Your role does not allow this. Ask a manager.')
      return await work({
        request,
        params: await params,
        context: { ...context, who },
      })
    } catch (error) {
      if (error instanceof Refusal) return refusalAnswer(error.plain)
      throw error
    }
  }
  return markDoor(handler, verb)
}

export function refusalAnswer(refusal: PlainRefusal): Response {
  const headers: Record<string, string> = { 'cache-control': 'no-store' }
  if (refusal.waitSeconds) headers['retry-after'] = String(refusal.waitSeconds)
  return Response.json({ ok: false, refusal }, { status: statusOf[refusal.kind], headers })
}

export function jsonAnswer(body: unknown): Response {
  return Response.json(body, { headers: { 'cache-control': 'no-store' } })
}

/** The JSON body of a request, at most `mostBytes` long. */
export async function jsonBody(request: Request, mostBytes: number): Promise<unknown> {
  const bytes = await bodyBytes(request, mostBytes)
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes))
  } catch {
    return refuse('malformed', 'This could not be read. Load the page again and repeat it.')
  }
}

/**
 * The bytes of a body. One that is too large is read to its end and dropped, since a connection that is cut in
 * the middle of a sending may take the refusal with it; one that does not come to an end is cut all the same.
 */
export async function bodyBytes(request: Request, mostBytes: number): Promise<Uint8Array> {
  const chunks: Uint8Array[] = []
  let size = 0
  const reader = request.body?.getReader()
  while (reader) {
    const { done, value } = await reader.read()
    if (done) break
    size += value.byteLength
    if (size <= mostBytes) chunks.push(value)
    else chunks.length = 0
    if (size > mostBytes * readToRefuse) {
      await reader.cancel()
      break
    }
  }
  if (size > mostBytes) {
    refuse('malformed', `This is larger than ${Math.floor(mostBytes / 1e6)} MB. Send a smaller one.`)
  }
  const all = new Uint8Array(size)
  let at = 0
  for (const chunk of chunks) {
    all.set(chunk, at)
    at += chunk.byteLength
  }
  return all
}

/** How many times the largest body is read before a sender is cut off. */
const readToRefuse = 4
