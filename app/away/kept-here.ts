import { type Pack, packOf } from '../../lib/shop/pack'
import type { Kept } from '../_ui/outbox/outbox'
import { recall, sellerSideNote } from '../_ui/remembered'
import { emptyPack, keepInPack, tabletStore } from '../_ui/tablet-store'

/* What this phone keeps for a viewing away from the shop: the pack, and what was done here until a pack tells of it. */

const packName = 'away'
const doneName = 'away-done'

export function sellerLooksOn(): boolean {
  return recall(sellerSideNote, 'device') === 'yes'
}

export type KeptHere = { pack: Pack | null; done: readonly Kept[] }

/** Of a pack that is good no longer nothing is shown, and it goes. */
export async function keptHere(now: Date): Promise<KeptHere> {
  try {
    const store = await tabletStore()
    const [row, done] = await Promise.all([store.get('pack', packName), store.get('pack', doneName)])
    const pack = typeof row?.body === 'string' ? packOf(row.body) : null
    if (pack && pack.expiresAt <= now) {
      await emptyPack()
      return { pack: null, done: [] }
    }
    const isSame = pack !== null && done?.person === pack.person.id
    return { pack, done: isSame ? (done.body as readonly Kept[]) : [] }
  } catch {
    return { pack: null, done: [] }
  }
}

/** A browser that keeps nothing shows it as long as the page is open. */
export async function keepPack(text: string, { person, asOf }: Pack): Promise<void> {
  const row = { name: packName, person: person.id, keptAt: asOf.toISOString(), body: text }
  await keepInPack(row).catch(() => {})
}

export async function keepDone(done: readonly Kept[], { person, asOf }: Pack): Promise<void> {
  // Photos lie in the outbox alone: there is nothing of them to show here.
  const body = done.filter(({ to }) => to === 'sync')
  const row = { name: doneName, person: person.id, keptAt: asOf.toISOString(), body }
  await keepInPack(row).catch(() => {})
}

export type Fetched =
  | { is: 'here'; pack: Pack; text: string }
  /** For the time being: no network, or a server that is busy. */
  | { is: 'later'; says: string }
  | { is: 'signed-out' }
  | { is: 'refused'; says: string }

/** Longer than an answer takes that comes at all. */
const patienceMilliseconds = 20_000

/** Asks the server for a pack as things are now. */
export async function fetchPack(): Promise<Fetched> {
  try {
    const response = await fetch('/api/v1/pack', {
      cache: 'no-store',
      credentials: 'same-origin',
      signal: AbortSignal.timeout(patienceMilliseconds),
    })
    const text = await response.text()
    if (response.status === 401) return { is: 'signed-out' }
    const pack = response.ok ? packOf(text) : null
    if (pack) return { is: 'here', pack, text }
    if (response.status === 403) return { is: 'refused', says: messageIn(text) }
    return { is: 'later', says: 'The server does not answer properly.' }
  } catch {
    return { is: 'later', says: 'No network.' }
  }
}

function messageIn(text: string): string {
  try {
    const { refusal } = JSON.parse(text) as { refusal?: { message?: unknown } }
    return typeof refusal?.message === 'string' ? refusal.message : 'The server gives nothing to this phone.'
  } catch {
    return 'The server gives nothing to this phone.'
  }
}
