'use client'

import { useCallback, useEffect, useMemo, useRef, useState } from 'react'
import type { DeedAway, Seen } from '../../lib/shop/away-viewings'
import { madeAt, seenAway } from '../../lib/shop/away-viewings'
import type { Pack } from '../../lib/shop/pack'
import type { Entry, Kept, OutboxState } from '../_ui/outbox/outbox'
import { useOutbox } from '../_ui/outbox/use-outbox'
import { isUnsent } from '../_ui/outbox/words'
import { remember, sellerSideNote } from '../_ui/remembered'
import { emptyPack } from '../_ui/tablet-store'
import { type Fetched, fetchPack, keepDone, keepPack, keptHere, sellerLooksOn } from './kept-here'

export type Opened =
  | { is: 'opening' }
  /** Nothing is kept, and why. */
  | { is: 'nothing'; says: string; signedOut: boolean }
  | { is: 'open'; pack: Pack; done: readonly Kept[]; says: string | null }

/** Opens what is kept on this phone and has it brought up to date wherever there is a network. */
export function usePack(): { opened: Opened; locked: boolean; renew: () => Promise<void> } {
  const [opened, setOpened] = useState<Opened>({ is: 'opening' })
  const [locked, setLocked] = useState(false)

  const renew = useCallback(async () => {
    const fetched = await fetchPack()
    if (fetched.is === 'here') await keepPack(fetched.text, fetched.pack)
    // The server gives nothing while the seller looks on: what it has given says that he does so no more.
    if (fetched.is === 'here') remember(sellerSideNote, 'no', 'device')
    const looksOn = sellerLooksOn()
    // Whoever may no longer have it loses it; while the seller looks on it only stays shut.
    if (fetched.is === 'refused' && !looksOn) await emptyPack().catch(() => {})
    setLocked(looksOn)
    setOpened((before) => after(before, fetched, looksOn))
  }, [])

  useEffect(() => {
    void keptHere(new Date()).then(({ pack, done }) => {
      setLocked(sellerLooksOn())
      if (pack) setOpened({ is: 'open', pack, done, says: null })
      return renew()
    })
    const look = () => {
      if (document.visibilityState === 'visible') void renew()
    }
    window.addEventListener('online', look)
    document.addEventListener('visibilitychange', look)
    return () => {
      window.removeEventListener('online', look)
      document.removeEventListener('visibilitychange', look)
    }
  }, [renew])

  return { opened, locked, renew }
}

function after(before: Opened, fetched: Fetched, looksOn: boolean): Opened {
  switch (fetched.is) {
    case 'here': {
      const same = before.is === 'open' && before.pack.person.id === fetched.pack.person.id
      return { is: 'open', pack: fetched.pack, done: same ? before.done : [], says: null }
    }
    case 'refused':
      if (looksOn && before.is === 'open') return before
      return { is: 'nothing', says: fetched.says, signedOut: false }
    case 'signed-out':
      if (before.is === 'open')
        return { ...before, says: 'You are signed out: what is kept here still works.' }
      return {
        is: 'nothing',
        says: 'Sign in once with a network, then this works without one.',
        signedOut: true,
      }
    case 'later':
      if (before.is === 'open') return { ...before, says: fetched.says }
      return { is: 'nothing', says: `${fetched.says} Nothing is kept on this phone yet.`, signedOut: false }
  }
}

export type AwayDone = {
  pack: Pack
  seen: Seen
  state: OutboxState
  /** What it is seen as with these in the outbox. */
  seenWith: (entries: readonly Entry[]) => Seen
  add: (kept: Kept) => void
  putAway: (id: string) => void
  /** Those of one viewing that the server has not confirmed, or has refused. */
  open: (bike: string) => readonly Entry[]
}

/** The viewings with all that was done here, kept until a pack of the server tells of it. */
export function useAway(
  { pack, done: before }: { pack: Pack; done: readonly Kept[] },
  renew: () => Promise<void>,
): AwayDone {
  const { state, outbox } = useOutbox(pack.person.id)
  const done = useRef<readonly Kept[]>(before)
  const [turn, setTurn] = useState(0)

  const seenWith = useCallback(
    (entries: readonly Entry[]) => seenAway(pack, deedsOf(done.current, entries)),
    [pack],
  )
  // biome-ignore lint/correctness/useExhaustiveDependencies: a turn is counted where the list behind the ref changed.
  const seen = useMemo(() => seenWith(state.entries), [seenWith, state.entries, turn])

  function change(next: readonly Kept[]) {
    done.current = next
    setTurn((count) => count + 1)
    void keepDone(next, pack)
  }

  // What a pack tells of is kept no longer.
  useEffect(() => {
    const isIn = new Set(pack.done)
    const told = outbox()
      .state()
      .entries.filter((entry) => entry.state === 'sent' && isIn.has(entry.kept.id))
    if (told.length > 0) outbox().forget(told.map(({ kept }) => kept.id))
    const rest = done.current.filter(
      (kept) => !isIn.has(kept.id) && !isLongGone(kept, pack, outbox().state()),
    )
    if (rest.length < done.current.length) {
      done.current = rest
      setTurn((count) => count + 1)
      void keepDone(rest, pack)
    }
  }, [pack, outbox])

  const isIn = useMemo(() => new Set(pack.done), [pack])
  const arrived = state.entries.filter((entry) => entry.state === 'sent' && !isIn.has(entry.kept.id))
  const missing = arrived.map(({ kept }) => kept.id).join()
  const quiet = !state.entries.some(isUnsent)
  useEffect(() => {
    if (missing !== '' && quiet) void renew()
  }, [missing, quiet, renew])

  return {
    pack,
    seen,
    state,
    seenWith,
    add(kept) {
      change([...done.current, kept])
      outbox().add(kept)
    },
    putAway(id) {
      change(done.current.filter((kept) => kept.id !== id))
      outbox().forget([id])
    },
    open: (bike) =>
      state.entries.filter(({ kept, state: at }) => at !== 'sent' && bikeOf(kept, seen) === bike),
  }
}

/** Neither in the outbox nor told of by a pack that was read a day after: it was put away elsewhere. */
function isLongGone({ id }: Kept, { asOf }: Pack, { entries }: OutboxState): boolean {
  const day = 24 * 3600 * 1000
  return !entries.some(({ kept }) => kept.id === id) && asOf.getTime() - madeAt(id).getTime() > day
}

/**
 * What was done, in its order. What the server refused counts no longer, but for what it refused because it did not
 * take the viewing in: that is seen until it is put away.
 */
function deedsOf(done: readonly Kept[], entries: readonly Entry[]): DeedAway[] {
  const states = new Map(entries.map(({ kept, state }) => [kept.id, state]))
  const all = new Map([...done, ...entries.map(({ kept }) => kept)].map((kept) => [kept.id, kept]))
  const deeds = [...all.values()].flatMap((kept): DeedAway[] => (kept.to === 'sync' ? [kept] : []))
  const notTaken = new Set(
    deeds.flatMap(({ id, deed, body }) =>
      deed === 'take-in-viewing' && states.get(id) === 'refused' ? [body.id] : [],
    ),
  )
  return deeds
    .filter(
      ({ id, body }) => states.get(id) !== 'refused' || notTaken.has(body.id) || notTaken.has(body.bike),
    )
    .sort((a, b) => (a.id < b.id ? -1 : 1))
}

function bikeOf(kept: Kept, { viewings }: Seen): unknown {
  if (kept.to === 'photos') return kept.facts.bike
  const { deed, body } = kept
  if (deed === 'take-in-viewing') return body.id
  if (deed !== 'counter-offer') return body.bike
  return viewings.find(({ bike }) => bike.offers.some(({ id }) => id === body.offer))?.bike.id
}
