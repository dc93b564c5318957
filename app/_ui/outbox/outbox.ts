import type { Outcome, Send } from './send'
import type { Shelf } from './shelf'

/** Something a person did that the server has to hear of. Its id is made here and is what it is known by. */
export type Kept = {
  id: string
  /** Who did it: nobody else sends it under his own name. */
  author: string
  /** What it is about and what was typed, for the person: nothing that was typed is lost. */
  label: string
  typed: string
  /** The id of an earlier one that this takes back: should that be refused, there is nothing to take back. */
  takesBack?: string
} & (
  | { to: 'sync'; deed: string; body: Readonly<Record<string, unknown>> }
  | { to: 'photos'; facts: Readonly<Record<string, string>>; bytes: Blob }
)

export type Refused = { message: string; fields: Readonly<Record<string, string>> }

export type Entry = { kept: Kept } & (
  | { state: 'waiting' | 'sending' | 'sent' }
  /** For good: it is shown and stops nothing. */
  | { state: 'refused'; refused: Refused }
)

/** Why nothing goes out at the moment. */
export type Trouble = 'no-network' | 'signed-out' | 'server-busy'

export type OutboxState = {
  entries: readonly Entry[]
  trouble: Trouble | null
  /** How many the server has confirmed since the page was opened. */
  confirmed: number
}

export type Outbox = {
  state(): OutboxState
  subscribe(listener: () => void): () => void
  /** Whose entries may go out now. */
  setPerson(person: string): void
  add(one: Kept): void
  /** Tries at once, whatever the wait that was under way. */
  sendNow(): Promise<void>
  /** Takes out what the page shows from the server by now, or what the person has put away. */
  forget(ids: readonly string[]): void
}

export type OutboxParts = {
  shelf: Shelf
  send: Send
  /** Calls back after so many milliseconds; returns how to call that off. */
  later: (milliseconds: number, then: () => void) => () => void
  /** From 0 up to 1: keeps tablets that lost the network together from coming back together. */
  chance: () => number
}

/** How many may go in one request. */
export const mostAtOnce = 50

const firstWait = 1000
const longestWait = 30_000

/** 1, 2, 4 … up to 30 seconds, less up to a quarter by chance. */
export function waitAfter(fails: number, chance: number): number {
  return Math.round(Math.min(firstWait * 2 ** (fails - 1), longestWait) * (1 - chance / 4))
}

/**
 * Sends what was recorded, in the order it was recorded. Without a network, with a server that is busy or a
 * person who was signed out it waits and tries again; what the server refuses for good is set aside with what
 * was typed, and the next goes out.
 */
export function makeOutbox({ shelf, send, later, chance }: OutboxParts): Outbox {
  let now: OutboxState = { entries: [], trouble: null, confirmed: 0 }
  let person: string | null = null
  let fails = 0
  let running = false
  let callOff = () => {}
  /** One at a time after a request was refused as a whole, so that the one to blame is found. */
  let singly = false
  const listeners = new Set<() => void>()

  const change = (next: Partial<OutboxState>) => {
    now = { ...now, ...next }
    for (const listener of listeners) listener()
  }
  const put = (changed: readonly Entry[]) => {
    const byId = new Map(changed.map((entry) => [entry.kept.id, entry]))
    change({ entries: now.entries.map((entry) => byId.get(entry.kept.id) ?? entry) })
  }

  async function start(): Promise<void> {
    if (running) return
    running = true
    callOff()
    try {
      for (;;) {
        const batch = nextBatch(now.entries, person, singly ? 1 : mostAtOnce)
        if (batch.length === 0) {
          change({ trouble: null })
          return
        }
        put(batch.map((kept) => ({ kept, state: 'sending' })))
        if (!(await settle(batch, await send(batch)))) return
      }
    } finally {
      // Before anything else can run: what is added from now on starts the next round itself.
      running = false
    }
  }

  /** True where there is reason to go on at once. */
  async function settle(batch: readonly Kept[], outcome: Outcome): Promise<boolean> {
    if (outcome.is === 'later') {
      put(batch.map((kept) => ({ kept, state: 'waiting' })))
      waitFor(outcome.because, outcome.waitSeconds)
      return false
    }
    if (outcome.is === 'refused-whole') {
      if (batch.length > 1) {
        singly = true
        put(batch.map((kept) => ({ kept, state: 'waiting' })))
        return true
      }
      return settle(batch, { is: 'answered', answers: [{ is: 'refused', refused: outcome.refused }] })
    }
    const { answers } = outcome
    put(
      batch.map((kept, index): Entry => {
        const answer = answers[index] ?? { is: 'later' }
        if (answer.is === 'later') return { kept, state: 'waiting' }
        return answer.is === 'done'
          ? { kept, state: 'sent' }
          : { kept, state: 'refused', refused: answer.refused }
      }),
    )
    await dropPointless()
    const done = batch.filter((_, index) => answers[index]?.is === 'done')
    change({ confirmed: now.confirmed + done.length })
    for (const { id } of done) await shelf.drop(id)
    if (answers.some((answer) => answer.is === 'later') || answers.length < batch.length) {
      waitFor('signed-out')
      return false
    }
    fails = 0
    change({ trouble: null })
    return true
  }

  /** What would take back something that the server never took. */
  async function dropPointless(): Promise<void> {
    const refused = new Set(now.entries.flatMap((e) => (e.state === 'refused' ? [e.kept.id] : [])))
    const pointless = now.entries.filter(
      ({ kept, state }) => kept.takesBack && refused.has(kept.takesBack) && state !== 'sent',
    )
    if (pointless.length === 0) return
    change({ entries: now.entries.filter((entry) => !pointless.includes(entry)) })
    for (const { kept } of pointless) await shelf.drop(kept.id)
  }

  function waitFor(because: Trouble, waitSeconds = 0): void {
    fails += 1
    change({ trouble: because })
    callOff = later(Math.max(waitAfter(fails, chance()), waitSeconds * 1000), () => void start())
  }

  return {
    state: () => now,
    subscribe(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    setPerson(next) {
      if (person === next) return
      person = next
      void shelf.load().then((kept) => {
        const known = new Set(now.entries.map((entry) => entry.kept.id))
        const before = kept.filter(({ id }) => !known.has(id))
        if (before.length > 0) {
          change({
            entries: [...before.map((one): Entry => ({ kept: one, state: 'waiting' })), ...now.entries],
          })
        }
        return start()
      })
    },
    add(one) {
      change({ entries: [...now.entries, { kept: one, state: 'waiting' }] })
      void shelf.keep(one).then(start)
    },
    sendNow: start,
    forget(ids) {
      const gone = now.entries.filter(
        ({ kept, state }) => ids.includes(kept.id) && (state === 'sent' || state === 'refused'),
      )
      if (gone.length === 0) return
      change({ entries: now.entries.filter((entry) => !gone.includes(entry)) })
      for (const { kept } of gone) void shelf.drop(kept.id)
    },
  }
}

/** The next of this person that wait, oldest first: photos by themselves, all else together. */
function nextBatch(entries: readonly Entry[], person: string | null, most: number): Kept[] {
  const waiting = entries
    .filter(({ state, kept }) => state === 'waiting' && kept.author === person)
    .map(({ kept }) => kept)
  const first = waiting[0]
  if (!first) return []
  if (first.to === 'photos') return [first]
  const end = waiting.findIndex(({ to }) => to === 'photos')
  return waiting.slice(0, Math.min(most, end === -1 ? waiting.length : end))
}
