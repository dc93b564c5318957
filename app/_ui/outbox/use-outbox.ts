'use client'

import { useEffect, useSyncExternalStore } from 'react'
import { makeOutbox, type Outbox, type OutboxState } from './outbox'
import { sendTo } from './send'
import { shelfInMemory } from './shelf'
import { isUnsent } from './words'

/** One for the whole tab, so that what waits goes on being sent from whichever page is open. */
let ofThisTab: Outbox | null = null

function outboxOfThisTab(): Outbox {
  ofThisTab ??= makeOutbox({
    shelf: shelfInMemory(),
    send: sendTo((path, init) => fetch(path, init)),
    later: (milliseconds, then) => {
      const timer = setTimeout(then, milliseconds)
      return () => clearTimeout(timer)
    },
    chance: Math.random,
  })
  return ofThisTab
}

const nothing: OutboxState = { entries: [], trouble: null, confirmed: 0 }
const subscribe = (listener: () => void) => outboxOfThisTab().subscribe(listener)

/** The outbox for the person who is signed in: it sends by itself and warns before unsent things are lost. */
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

  const unsent = state.entries.some(isUnsent)
  useEffect(() => {
    if (!unsent) return
    const warn = (event: BeforeUnloadEvent) => event.preventDefault()
    window.addEventListener('beforeunload', warn)
    return () => window.removeEventListener('beforeunload', warn)
  }, [unsent])

  return { state, outbox: outboxOfThisTab }
}
