import type { Kept, Refused, Trouble } from './outbox'

/** What became of one that was sent. */
export type Answer = { is: 'done' } | { is: 'refused'; refused: Refused } | { is: 'later' }

/** What became of a request. */
export type Outcome =
  /** `heard` is what the server's clock said, against this device's at the moment of sending. */
  | { is: 'answered'; answers: readonly Answer[]; heard?: Heard }
  /** Nothing of it was taken, and sending it again would change nothing. */
  | { is: 'refused-whole'; refused: Refused }
  | { is: 'later'; because: Trouble; waitSeconds?: number }

/** When the server last answered, by this device's clock, and how far that is ahead of the server's. */
export type Heard = { at: number; clockAheadMs: number }

/** Sends either one photo or any number of others; `waiting` is how many are unsent, these among them. */
export type Send = (batch: readonly Kept[], waiting: number) => Promise<Outcome>

type Fetch = (path: string, init: RequestInit) => Promise<Response>

/** Longer than any answer of a server that is there; without it a dead connection would hold everything up. */
const patienceMilliseconds = 30_000

/** What the pages of this build speak; the server knows the older ones too. */
const contract = 2

/** Sends to the two addresses of the server that take what was recorded. */
export function sendTo(fetch: Fetch, clock: () => number = Date.now): Send {
  return async (batch, waiting) => {
    const first = batch[0]
    if (!first) return { is: 'answered', answers: [] }
    const at = clock()
    const sentAt = new Date(at).toISOString()
    const answer = await ask(
      fetch,
      first.to === 'photos' ? photoRequest(first, sentAt) : syncRequest(batch, { sentAt, waiting }),
    )
    if (!answer) return { is: 'later', because: 'no-network' }
    const { response, body } = answer
    if (!response.ok) return outcomeOf(response, body)
    // A gate in front of the network answers everything with a page of its own: that is no word of our server.
    if ((body as Told | null)?.ok !== true) return { is: 'later', because: 'server-busy' }
    const answers: Answer[] = first.to === 'photos' ? [{ is: 'done' }] : answersOf(batch, body)
    return { is: 'answered', answers, ...heardOf(body, at) }
  }
}

function heardOf(body: unknown, at: number): { heard?: Heard } {
  const theirs = Date.parse(String((body as { serverTime?: unknown } | null)?.serverTime))
  return Number.isNaN(theirs) ? {} : { heard: { at, clockAheadMs: at - theirs } }
}

function syncRequest(
  batch: readonly Kept[],
  sending: { sentAt: string; waiting: number },
): { path: string; init: RequestInit } {
  const operations = batch.flatMap((kept) =>
    kept.to === 'sync' ? [{ id: kept.id, author: kept.author, deed: kept.deed, body: kept.body }] : [],
  )
  const body = JSON.stringify({ contract, ...sending, operations })
  const init = { body, headers: { 'content-type': 'application/json' } }
  return { path: '/api/v1/sync', init }
}

function photoRequest(
  kept: Extract<Kept, { to: 'photos' }>,
  sentAt: string,
): { path: string; init: RequestInit } {
  const facts = new URLSearchParams({ id: kept.id, author: kept.author, sentAt, ...kept.facts })
  const headers = { 'content-type': 'application/octet-stream' }
  return { path: `/api/v1/photos?${facts}`, init: { body: kept.bytes, headers } }
}

/** Null where no whole answer came. */
async function ask(
  fetch: Fetch,
  { path, init }: { path: string; init: RequestInit },
): Promise<{ response: Response; body: unknown } | null> {
  try {
    const response = await fetch(path, {
      method: 'POST',
      cache: 'no-store',
      credentials: 'same-origin',
      signal: AbortSignal.timeout(patienceMilliseconds),
      ...init,
    })
    const text = await response.text()
    return { response, body: asJson(text) }
  } catch {
    return null
  }
}

/** What is no JSON did not come from our server: something between it and us has answered. */
function asJson(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
}

type Told = { ok?: unknown; id?: unknown; refusal?: { kind?: unknown; message?: unknown; fields?: unknown } }

function answersOf(batch: readonly Kept[], body: unknown): Answer[] {
  const told = (body as { answers?: unknown } | null)?.answers
  const byId = new Map((Array.isArray(told) ? (told as Told[]) : []).map((one) => [one.id, one]))
  return batch.map(({ id }) => answerOf(byId.get(id)))
}

function answerOf(told: Told | undefined): Answer {
  if (!told) return { is: 'later' }
  if (told.ok === true) return { is: 'done' }
  return keptForLater.includes(String(told.refusal?.kind))
    ? { is: 'later' }
    : { is: 'refused', refused: refusedOf(told) }
}

/** Refusals that pass by themselves, or with the right person signed in. */
const keptForLater: readonly string[] = ['not-signed-in', 'too-soon']

function outcomeOf(response: Response, body: unknown): Outcome {
  const { status } = response
  if (status === 401) return { is: 'later', because: 'signed-out' }
  const waitSeconds = Number(response.headers.get('retry-after') ?? 0) || 0
  const told = body as Told | null
  // 409: the same is being done at this moment, by way of another tab.
  if (status === 409 || status === 429 || status >= 500 || !told?.refusal) {
    return { is: 'later', because: 'server-busy', waitSeconds }
  }
  return { is: 'refused-whole', refused: refusedOf(told) }
}

function refusedOf({ refusal }: Told): Refused {
  const message = typeof refusal?.message === 'string' ? refusal.message : 'The server did not take this.'
  const fields = typeof refusal?.fields === 'object' && refusal.fields !== null ? refusal.fields : {}
  return { message, fields: fields as Record<string, string> }
}
