import { type Entry, heldForAuthor, type OutboxState } from './outbox'

/** Where one thing is. "On this tablet" is said only of what is written down, "on the server" only of what it confirmed. */
export function stateWords({ state, onDisk }: Entry): string {
  switch (state) {
    case 'waiting':
      return onDisk ? 'on this tablet' : 'only on this page'
    case 'sending':
      return 'sending'
    case 'sent':
      return 'on the server'
    case 'refused':
      return 'needs a look'
  }
}

/** Where the sending stands, in one honest line. "Sent" is said of nothing that the server has not confirmed. */
export function sendingWords(state: OutboxState): string {
  const held = heldForAuthor(state)
  const [others, goingOut] = [true, false].map((isHeld) =>
    state.entries.filter((entry) => isUnsent(entry) && held.has(entry.kept.id) === isHeld),
  ) as [Entry[], Entry[]]
  const waits =
    others.length > 0
      ? `${whatWaits(others)} of somebody else ${where(others)}: sent once they sign in here.`
      : ''
  if (goingOut.length === 0 && waits !== '') return waits
  return [ofThoseGoingOut(goingOut, state), waits].filter(Boolean).join(' ')
}

function ofThoseGoingOut(unsent: readonly Entry[], { trouble, confirmed }: OutboxState): string {
  if (unsent.length === 0) return confirmed > 0 ? 'All sent.' : ''
  const what = `${whatWaits(unsent)} ${where(unsent)}`
  switch (trouble) {
    case 'no-network':
      return `No network: ${what}. Sent by itself once there is one.${keepOpen(unsent)}`
    case 'signed-out':
      return `You are signed out: ${what}, not sent. Sign in again.${keepOpen(unsent)}`
    case 'server-busy':
      return `The server does not answer properly: ${what}. Tried again by itself.${keepOpen(unsent)}`
    case null:
      return `Sending ${whatWaits(unsent)} …`
  }
}

const where = (entries: readonly Entry[]) => (entries.some(lastsNot) ? 'only on this page' : 'on this tablet')

const keepOpen = (entries: readonly Entry[]) =>
  entries.some(lastsNot) ? ' This browser keeps nothing more: leave this page open until then.' : ''

/** What one, and what several, of each deed are called. */
const deedWords: Readonly<Record<string, readonly [string, string]>> = {
  'record-reading': ['reading', 'readings'],
  'set-bike-limit': ['limit', 'limits'],
  'take-back-photo': ['photo to take back', 'photos to take back'],
  'mark-photo': ['drawing on a photo', 'drawings on photos'],
  'take-in-viewing': ['viewing', 'viewings'],
  'say-prices': ['price', 'prices'],
  'note-price': ['price', 'prices'],
  'make-offer': ['offer', 'offers'],
  'counter-offer': ['answer', 'answers'],
}

/** 2 readings, 1 photo. */
export function whatWaits(entries: readonly Entry[]): string {
  const counts = new Map<string, { words: readonly [string, string]; count: number }>()
  for (const { kept } of entries) {
    const words =
      kept.to === 'photos' ? (['photo', 'photos'] as const) : (deedWords[kept.deed] ?? ['entry', 'entries'])
    const count = (counts.get(words[0])?.count ?? 0) + 1
    counts.set(words[0], { words, count })
  }
  return [...counts.values()].map(({ words, count }) => `${count} ${words[count === 1 ? 0 : 1]}`).join(', ')
}

export function isUnsent({ state }: Entry): boolean {
  return state === 'waiting' || state === 'sending'
}

/** Unsent, and written nowhere that outlives the page. */
export function lastsNot(entry: Entry): boolean {
  return isUnsent(entry) && entry.onDisk !== true
}
