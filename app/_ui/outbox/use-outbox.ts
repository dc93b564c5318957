'use client'

import { useEffect, useSyncExternalStore } from 'react'
import { isKept } from '../keeper'
import { fact, noteFact, tabletStore } from '../tablet-store'
import { makeOutbox, type Outbox, type OutboxState } from './outbox'
import { type Heard, sendTo } from './send'
import { shelfOnDisk } from './shelf-on-disk'
import { lastsNot } from './words'

/** One for the whole tab, so that what waits goes on being sent from whichever page is open. */
let ofThisTab: Outbox | null = null

export function outboxOfThisTab(): Outbox {
  ofThisTab ??= openOutbox()
  return ofThisTab
}

function openOutbox(): Outbox {
  const outbox = makeOutbox({
    shelf: shelfOnDisk({ open: tabletStore, ...betweenTabs(), clock: Date.now }),
    send: sendTo((path, init) => fetch(path, init)),
    later: (milliseconds, then) => {
      const timer = setTimeout(then, milliseconds)
      return () => clearTimeout(timer)
    },
    chance: Math.random,
    inTurn: oneTabAtATime,
    keepsPages: isKept,
  })
  rememberHeard(outbox)
  return outbox
}

/** What the server's clock said outlives the page. Where the browser keeps nothing it is told anew each time. */
function rememberHeard(outbox: Outbox): void {
  let noted: Heard | undefined
  void fact('heard')
    .then((before) => before && outbox.heardBefore(before as Heard))
    .catch(() => {})
  outbox.subscribe(() => {
    const { heard } = outbox.state()
    if (heard === noted || heard === undefined) return
    noted = heard
    void noteFact('heard', heard).catch(() => {})
  })
}

const nameOfTurn = 'stand-ledger-outbox'

/** What one tab changes on the shelf, the others hear. */
function betweenTabs(): { tell: () => void; hear: (listener: () => void) => void } {
  if (typeof BroadcastChannel === 'undefined') return { tell: () => {}, hear: () => {} }
  const channel = new BroadcastChannel(nameOfTurn)
  return {
    tell: () => channel.postMessage('changed'),
    hear: (listener) => channel.addEventListener('message', listener),
  }
}

/** Browsers have no locks on plain http: then two tabs may send the same, which the server does once. */
function oneTabAtATime(work: () => Promise<void>): Promise<void> {
  const locks = (navigator as { locks?: LockManager }).locks
  return locks ? locks.request(nameOfTurn, work).then(() => {}) : work()
}

const nothing: OutboxState = { entries: [], trouble: null, confirmed: 0 }
const subscribe = (listener: () => void) => outboxOfThisTab().subscribe(listener)

/**
 * The outbox for the person who is signed in: it sends by itself, and warns before a page is left that holds what
 * is written nowhere else.
 */
export function useOutbox(person: string): { state: OutboxState; outbox: () => Outbox } {
  const state = useSyncExternalStore(
    subscribe,
    () => outboxOfThisTab().state(),
    () => nothing,
  )
  useEffect(() => {
    const outbox = outboxOfThisTab()
    outbox.setPerson(person)
    const tryNow = () => {
      if (document.visibilityState === 'visible') void outbox.sendNow()
    }
    window.addEventListener('online', tryNow)
    document.addEventListener('visibilitychange', tryNow)
    return () => {
      window.removeEventListener('online', tryNow)
      document.removeEventListener('visibilitychange', tryNow)
    }
  }, [person])

  const wouldBeLost = state.entries.some(lastsNot)
  useEffect(() => {
    if (!wouldBeLost) return
    const warn = (event: BeforeUnloadEvent) => event.preventDefault()
    window.addEventListener('beforeunload', warn)
    return () => window.removeEventListener('beforeunload', warn)
  }, [wouldBeLost])

  return { state, outbox: outboxOfThisTab }
}
