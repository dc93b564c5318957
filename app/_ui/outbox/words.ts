import type { Entry, OutboxState } from './outbox'

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
  const what = whatWaits(mine)
  switch (trouble) {
    case 'no-network':
      return `Waiting for the network: ${what}. Keep this page open.`
    case 'signed-out':
      return `You are signed out: ${what} not sent. Sign in again in another window, then come back here.`
    case 'server-busy':
      return `The server does not answer properly: ${what} waiting. Keep this page open.`
    case null:
      return `Sending ${what} …`
  }
}

/** 2 readings, 1 photo. */
function whatWaits(entries: readonly Entry[]): string {
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
