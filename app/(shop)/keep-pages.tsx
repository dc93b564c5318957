'use client'

import { useEffect } from 'react'
import { askKeeper, startKeeper } from '../_ui/keeper'
import { outboxOfThisTab, useOutbox } from '../_ui/outbox/use-outbox'
import { isUnsent } from '../_ui/outbox/words'
import { emptyPack } from '../_ui/tablet-store'

const second = 1000
const minute = 60 * second

/** Pages are kept anew after so long, as long as somebody looks at one. */
const longestKept = 10 * minute

/**
 * On every page behind sign-in: sends what waits from whichever page is open, and lets the pages for a time
 * without a network be kept anew in the background. Each device waits a little by chance, so that all of them do
 * not ask at once when the network comes back.
 */
export function KeepPages({ person }: { person: string }) {
  const { state } = useOutbox(person)
  const quiet = !state.entries.some(isUnsent)
  const { confirmed } = state

  useEffect(() => {
    let keptAt = 0
    let timer: ReturnType<typeof setTimeout> | undefined
    const soon = (least: number, most: number) => {
      clearTimeout(timer)
      timer = setTimeout(() => void keep(), least + Math.random() * (most - least))
    }
    async function keep() {
      const before = keptAt
      keptAt = (await keepAnew(person)) ?? before
    }
    const look = () => {
      if (document.visibilityState !== 'visible' || !navigator.onLine) return
      if (Date.now() - keptAt > longestKept) soon(second, 10 * second)
    }
    async function begin() {
      if (!(await startKeeper())) return
      await navigator.serviceWorker.ready
      const kept = await askKeeper({ ask: 'here', person })
      keptAt = kept?.keptAt ?? 0
      if (keptAt === 0) soon(second, 3 * second)
      else look()
    }
    void begin()
    const every = setInterval(look, minute)
    window.addEventListener('online', look)
    document.addEventListener('visibilitychange', look)
    return () => {
      clearTimeout(timer)
      clearInterval(every)
      window.removeEventListener('online', look)
      document.removeEventListener('visibilitychange', look)
    }
  }, [person])

  // What was sent is to be on the kept pages before it leaves the shelf.
  useEffect(() => {
    if (!quiet || confirmed === 0) return
    const timer = setTimeout(() => void keepAnew(person), 2 * second)
    return () => clearTimeout(timer)
  }, [quiet, confirmed, person])

  return null
}

/** When the round began that was kept last; null where nothing is kept. */
export async function keepAnew(person: string): Promise<number | null> {
  const before = await askKeeper({ ask: 'state' })
  const after = await askKeeper({ ask: 'keep' })
  if (after?.keptAt)
    await outboxOfThisTab()
      .pagesKept(after.keptAt)
      .catch(() => {})
  // The server knows nobody here any more: what the device kept of the shop goes too.
  if (before?.person === person && after?.person === null) await emptyPack().catch(() => {})
  return after?.keptAt ?? null
}
