import type { Heard, Outcome, Send } from './send'
import type { OnShelf, Shelf } from './shelf'

/** Something a person did that the server has to hear of. Its id is made here and is what it is known by. */
export type Kept = {
  id: string
  /** Who did it: under whose name it goes in, whoever is signed in when it is sent. */
  author: string
  /** What it is about and what was typed, for the person: nothing that was typed is lost. */
  label: string
  typed: string
  /** The id of an earlier one that this takes back: should that be refused, there is nothing to take back. */
  takesBack?: string
  /**
   * Ids of earlier ones without which it means nothing: a drawing rests on its photo and on the drawing before it. It
   * waits until they have arrived, and goes with them where they are refused or taken back.
   */
  restsOn?: readonly string[]
} & (
  | { to: 'sync'; deed: string; body: Readonly<Record<string, unknown>> }
  /** The bytes are null where they lie on the shelf and are fetched when it is the photo's turn. */
  | { to: 'photos'; facts: Readonly<Record<string, string>>; bytes: Blob | null }
)

export type Refused = { message: string; fields: Readonly<Record<string, string>> }

export type Entry = {
  kept: Kept
  /** Its turn; undefined while it is being written down. */
  place?: number
  /** It is written where it outlives the page: only then may anybody be told that it is on this tablet. */
  onDisk?: boolean
} & (
  | { state: 'waiting' | 'sending' | 'sent' }
  /** For good: it is shown and stops nothing. */
  | { state: 'refused'; refused: Refused }
)

/** Why nothing goes out at the moment. */
export type Trouble = 'no-network' | 'signed-out' | 'server-busy'

export type OutboxState = {
  entries: readonly Entry[]
  /** Who is signed in. */
  person?: string
  trouble: Trouble | null
  /** How many the server has confirmed since the page was opened. */
  confirmed: number
  /** When the server last answered a sending, and how this device's clock went then. */
  heard?: Heard
}

export type Outbox = {
  state(): OutboxState
  subscribe(listener: () => void): () => void
  /** Who is signed in: nothing goes out while nobody is. */
  setPerson(person: string): void
  /** What an earlier page heard of the server. */
  heardBefore(heard: Heard): void
  add(one: Kept): void
  /** Tries at once, whatever the wait that was under way. */
  sendNow(): Promise<void>
  /** Takes out what the page shows from the server by now, or what the person has put away. */
  forget(ids: readonly string[]): void
  /** The picture of a photo that is kept here; null where it is not here or no longer what it was. */
  picture(id: string): Promise<Blob | null>
  /** The pages that are kept for a time without a network show all that the server had at that instant. */
  pagesKept(instant: number): Promise<void>
}

export type OutboxParts = {
  shelf: Shelf
  send: Send
  /** Calls back after so many milliseconds; returns how to call that off. */
  later: (milliseconds: number, then: () => void) => () => void
  /** From 0 up to 1: keeps tablets that lost the network together from coming back together. */
  chance: () => number
  /**
   * Lets one tab of the device send at a time. Without it nothing is done twice either, since the server does each
   * id once; it would only be sent twice.
   */
  inTurn?: (work: () => Promise<void>) => Promise<void>
  /**
   * Whether pages are kept for a time without a network. What was sent then stays on the shelf until those pages
   * show it too (`pagesKept`), so that a kept page lacks nothing that was recorded here.
   */
  keepsPages?: () => boolean
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
 * was typed, and the next goes out. Other tabs of the device may add to the same shelf and take from it.
 */
export function makeOutbox({
  shelf,
  send,
  later,
  chance,
  inTurn = (work) => work(),
  keepsPages = () => false,
}: OutboxParts): Outbox {
  let now: OutboxState = { entries: [], trouble: null, confirmed: 0 }
  let person: string | null = null
  let fails = 0
  let running = false
  let again = false
  let callOff = () => {}
  /** One at a time after a request was refused as a whole, so that the one to blame is found. */
  let singly = false
  const forgotten = new Set<string>()
  const listeners = new Set<() => void>()

  const change = (next: Partial<OutboxState>) => {
    now = { ...now, ...next }
    for (const listener of listeners) listener()
  }
  const put = (changed: ReadonlyMap<string, (entry: Entry) => Entry>) =>
    change({ entries: now.entries.map((entry) => changed.get(entry.kept.id)?.(entry) ?? entry) })
  const putAll = (batch: readonly Kept[], state: 'waiting' | 'sending') =>
    put(new Map(batch.map(({ id }) => [id, (entry) => ({ ...placeOf(entry), state })])))

  shelf.onChange(() => void reread().then(start))

  /** What other tabs did meanwhile, and at the start what was kept before. */
  async function reread(): Promise<void> {
    // What is written down while the shelf is being read is not on it yet, and was sent by nobody.
    const written = new Set(now.entries.flatMap(({ kept, onDisk }) => (onDisk ? [kept.id] : [])))
    const rows = await shelf.load()
    const entries = merged(now.entries, { rows, written, forgotten })
    if (entries !== now.entries) change({ entries })
    await letGo()
  }

  async function start(): Promise<void> {
    if (running) {
      again = true
      return
    }
    if (person === null || nextBatch(now, 1).length === 0) {
      if (now.trouble !== null && person !== null) change({ trouble: null })
      return
    }
    running = true
    callOff()
    try {
      await inTurn(async () => {
        // Another tab may have sent some of it while this one waited for its turn.
        await reread()
        await sendAll()
      })
    } finally {
      running = false
    }
    if (again) {
      again = false
      await start()
    }
  }

  async function sendAll(): Promise<void> {
    for (;;) {
      again = false
      const batch = nextBatch(now, singly ? 1 : mostAtOnce)
      if (batch.length === 0) {
        change({ trouble: null })
        return
      }
      putAll(batch, 'sending')
      if (!(await settle(batch, await sendWhole(batch)))) return
    }
  }

  /** A photo that was loaded again gets its bytes first. */
  async function sendWhole(batch: readonly Kept[]): Promise<Outcome> {
    const [first] = batch
    const waiting = now.entries.filter(({ state }) => state === 'waiting' || state === 'sending').length
    if (first?.to !== 'photos' || first.bytes) return send(batch, waiting)
    const bytes = await shelf.bytes(first.id).catch(() => null)
    return bytes
      ? send([{ ...first, bytes }], waiting)
      : { is: 'answered', answers: [{ is: 'refused', refused: damaged }] }
  }

  /** True where there is reason to go on at once. */
  async function settle(batch: readonly Kept[], outcome: Outcome): Promise<boolean> {
    if (outcome.is === 'later') {
      putAll(batch, 'waiting')
      waitFor(outcome.because, outcome.waitSeconds)
      return false
    }
    if (outcome.is === 'refused-whole') {
      if (batch.length > 1) {
        singly = true
        putAll(batch, 'waiting')
        return true
      }
      return settle(batch, { is: 'answered', answers: [{ is: 'refused', refused: outcome.refused }] })
    }
    const { answers, heard } = outcome
    if (heard) change({ heard })
    put(
      new Map(
        batch.map(({ id }, index) => [
          id,
          (entry: Entry): Entry => {
            const answer = answers[index] ?? { is: 'later' }
            const at = placeOf(entry)
            if (answer.is === 'later') return { ...at, state: 'waiting' }
            return answer.is === 'done'
              ? { ...at, state: 'sent' }
              : { ...at, state: 'refused', refused: answer.refused }
          },
        ]),
      ),
    )
    const done = batch.filter((_, index) => answers[index]?.is === 'done')
    change({ confirmed: now.confirmed + done.length })
    if (done.length > 0) await shelf.sent(done.map(({ id }) => id))
    for (const [index, { id }] of batch.entries()) {
      const answer = answers[index]
      if (answer?.is === 'refused') await shelf.refuse(id, answer.refused)
    }
    await letGo()
    if (answers.some((answer) => answer.is === 'later') || answers.length < batch.length) {
      waitFor('signed-out')
      return false
    }
    fails = 0
    change({ trouble: null })
    return true
  }

  /** Lets go of what has become pointless, and sets aside what rested on something that was refused. */
  async function letGo(): Promise<void> {
    const { pointless, refusedToo } = fallenWith(now.entries)
    if (pointless.length + refusedToo.size === 0) return
    for (const id of pointless) forgotten.add(id)
    const kept = now.entries.filter((entry) => !pointless.includes(entry.kept.id))
    change({
      entries: kept.map((entry): Entry => {
        const refused = refusedToo.get(entry.kept.id)
        return refused ? { ...placeOf(entry), state: 'refused', refused } : entry
      }),
    })
    if (pointless.length > 0) await shelf.drop(pointless)
    for (const [id, refused] of refusedToo) await shelf.refuse(id, refused)
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
      change({ person: next })
      void reread().then(start)
    },
    add(one) {
      change({ entries: [...now.entries, { kept: one, state: 'waiting' }] })
      void letGo()
      void shelf.keep(one).then(({ place, onDisk }) => {
        // It was let go of before it was written.
        if (forgotten.has(one.id)) return shelf.drop([one.id])
        put(new Map([[one.id, (entry) => ({ ...entry, place, onDisk })]]))
        return start()
      })
    },
    heardBefore(heard) {
      if (!now.heard) change({ heard })
    },
    sendNow: start,
    forget(ids) {
      const gone = now.entries.filter(
        ({ kept, state }) => ids.includes(kept.id) && (state === 'sent' || state === 'refused'),
      )
      if (gone.length === 0) return
      for (const { kept } of gone) forgotten.add(kept.id)
      change({ entries: now.entries.filter((entry) => !gone.includes(entry)) })
      const dropped = gone.filter(({ state }) => state === 'refused' || !keepsPages())
      if (dropped.length > 0) void shelf.drop(dropped.map(({ kept }) => kept.id))
    },
    async picture(id) {
      const entry = now.entries.find(({ kept }) => kept.id === id)
      const here = entry?.kept.to === 'photos' ? entry.kept.bytes : null
      return here ?? shelf.bytes(id).catch(() => null)
    },
    pagesKept: (instant) => shelf.dropSentBefore(instant),
  }
}

const damaged: Refused = {
  message: 'This photo is no longer what it was when it was taken. Take it again.',
  fields: {},
}

const placeOf = ({ kept, place, onDisk }: Entry): Pick<Entry, 'kept' | 'place' | 'onDisk'> => ({
  kept,
  place,
  onDisk,
})

/**
 * What this tab knew and what lies on the shelf, as one list in the order of their turns. What this tab saw on
 * disk and is there no more was sent by another tab, unless that put it away.
 */
function merged(
  known: readonly Entry[],
  {
    rows,
    written,
    forgotten,
  }: { rows: readonly OnShelf[]; written: ReadonlySet<string>; forgotten: ReadonlySet<string> },
): readonly Entry[] {
  const onShelf = new Map(rows.map((row) => [row.kept.id, row]))
  const before = known.flatMap((entry): Entry[] => {
    const row = onShelf.get(entry.kept.id)
    if (!row) {
      if (!written.has(entry.kept.id) || entry.state === 'sent') return [entry]
      return entry.state === 'refused' ? [] : [{ ...placeOf(entry), state: 'sent' }]
    }
    // Of what waits this tab knows more: it may be sending it. Of all else the shelf does.
    if (row.state === 'waiting' || entry.state === 'sent' || entry.state === 'refused') return [entry]
    return [{ ...row, kept: entry.kept }]
  })
  const ids = new Set(known.map(({ kept }) => kept.id))
  const added = rows.filter(({ kept }) => !ids.has(kept.id) && !forgotten.has(kept.id))
  if (added.length === 0 && before.every((entry, index) => entry === known[index])) return known
  const turn = ({ place }: Entry) => place ?? Number.POSITIVE_INFINITY
  return [...before, ...added].sort((a, b) => (turn(a) === turn(b) ? 0 : turn(a) - turn(b)))
}

/**
 * What goes with what was refused or taken back. What would take back something that the server never took, and a
 * drawing on a photo that never came or was taken back, is pointless. A drawing on top of one that was refused is
 * refused with it: the server could no longer tell that the later one was made without knowing of somebody else's.
 */
function fallenWith(entries: readonly Entry[]): {
  pointless: readonly string[]
  refusedToo: ReadonlyMap<string, Refused>
} {
  const refused = new Map<string, { to: Kept['to']; why: Refused }>()
  for (const entry of entries)
    if (entry.state === 'refused') refused.set(entry.kept.id, { to: entry.kept.to, why: entry.refused })
  const back = new Set(entries.flatMap(({ kept, state }) => (state === 'refused' ? [] : [kept.takesBack])))
  const pointless: string[] = []
  const refusedToo = new Map<string, Refused>()
  // What rests on another comes after it, so that one walk through them is enough.
  for (const { kept, state } of entries) {
    const { id, takesBack, restsOn = [] } = kept
    if (takesBack !== undefined && refused.has(takesBack) && state !== 'sent') pointless.push(id)
    if (state !== 'waiting') continue
    const under = restsOn.flatMap((one) => refused.get(one) ?? [])
    if (restsOn.some((one) => back.has(one)) || under.some(({ to }) => to === 'photos')) pointless.push(id)
    else if (under[0]) {
      refusedToo.set(id, under[0].why)
      refused.set(id, { to: kept.to, why: under[0].why })
    }
  }
  return { pointless, refusedToo }
}

/** What everybody in the shop may do: it goes out whoever is signed in. The server takes no more than this for another. */
export const sentForAnybody: readonly string[] = [
  'record-reading',
  'set-bike-limit',
  'take-back-photo',
  'mark-photo',
]

/** Only whoever did it may send it. */
export function isForAuthorOnly(kept: Kept): boolean {
  return kept.to === 'sync' && !sentForAnybody.includes(kept.deed)
}

/**
 * Authors who are not signed in and of whom something waits that only they may send. All of theirs waits for them:
 * what comes later may rest on it, as a reading on the viewing it was taken at.
 */
function authorsWaitedFor({ entries, person }: OutboxState): ReadonlySet<string> {
  return new Set(
    entries.flatMap(({ kept, state }) =>
      (state === 'waiting' || state === 'sending') && kept.author !== person && isForAuthorOnly(kept)
        ? [kept.author]
        : [],
    ),
  )
}

/** Ids of what waits for an author who is not signed in: theirs, and what others have rested on it. */
export function heldForAuthor(state: OutboxState): ReadonlySet<string> {
  const authors = authorsWaitedFor(state)
  const held = new Set<string>()
  for (const { kept, state: at } of state.entries) {
    if (at !== 'waiting' && at !== 'sending') continue
    if (authors.has(kept.author) || kept.restsOn?.some((id) => held.has(id))) held.add(kept.id)
  }
  return held
}

/**
 * The next that may go out and are written down, oldest first: photos by themselves, all else together, but for what
 * rests on something that has not arrived.
 */
function nextBatch(state: OutboxState, most: number): Kept[] {
  const held = heldForAuthor(state)
  const unsent = new Set(
    state.entries.flatMap(({ kept, state: at }) => (at === 'waiting' || at === 'sending' ? [kept.id] : [])),
  )
  const waiting = state.entries
    .filter((entry) => entry.state === 'waiting' && entry.place !== undefined)
    .map(({ kept }) => kept)
    .filter(({ id, restsOn = [] }) => !held.has(id) && !restsOn.some((one) => unsent.has(one)))
  const first = waiting[0]
  if (!first) return []
  if (first.to === 'photos') return [first]
  const end = waiting.findIndex(({ to }) => to === 'photos')
  return waiting.slice(0, Math.min(most, end === -1 ? waiting.length : end))
}
