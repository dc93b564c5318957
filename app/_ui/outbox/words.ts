import type { Entry, OutboxState } from './outbox'

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
export function sendingWords({ entries, trouble, confirmed }: OutboxState, person: string): string {
  const unsent = entries.filter(isUnsent)
  const mine = unsent.filter(({ kept }) => kept.author === person)
  const words = mine.length > 0 ? [ofMine(mine, trouble)] : []
  const others = unsent.length - mine.length
  if (others > 0) words.push(`${others} recorded by somebody else: sent when they sign in here.`)
  if (words.length > 0) return words.join(' ')
  return confirmed > 0 ? 'All sent.' : ''
}

function ofMine(mine: readonly Entry[], trouble: OutboxState['trouble']): string {
  const what = `${whatWaits(mine)} ${where(mine)}`
  switch (trouble) {
    case 'no-network':
      return `No network: ${what}. Sent by itself once there is one.${keepOpen(mine)}`
    case 'signed-out':
      return `You are signed out: ${what}, not sent. Sign in again.${keepOpen(mine)}`
    case 'server-busy':
      return `The server does not answer properly: ${what}. Tried again by itself.${keepOpen(mine)}`
    case null:
      return `Sending ${whatWaits(mine)} …`
  }
}

const where = (entries: readonly Entry[]) => (entries.some(lastsNot) ? 'only on this page' : 'on this tablet')

const keepOpen = (entries: readonly Entry[]) =>
  entries.some(lastsNot) ? ' This browser keeps nothing more: leave this page open until then.' : ''

/** 2 readings, 1 photo. */
export function whatWaits(entries: readonly Entry[]): string {
  const counts = new Map<string, number>()
  for (const { kept } of entries) {
    const word = kept.to === 'photos' ? 'photo' : kept.deed === 'set-bike-limit' ? 'limit' : 'reading'
    counts.set(word, (counts.get(word) ?? 0) + 1)
  }
  return [...counts].map(([word, count]) => `${count} ${word}${count === 1 ? '' : 's'}`).join(', ')
}

export function isUnsent({ state }: Entry): boolean {
  return state === 'waiting' || state === 'sending'
}

/** Unsent, and written nowhere that outlives the page. */
export function lastsNot(entry: Entry): boolean {
  return isUnsent(entry) && entry.onDisk !== true
}
