import { useEffect, useState } from 'react'
import { askKeeper, type KeepsNothing, whyKeepsNothing } from '../../_ui/keeper'
import type { KeptState } from '../../_ui/kept-state'

/** Whether the browser promises to keep what lies here when its disk runs short; null where it does not say. */
export type Promised = boolean | null

export type DeviceFacts = {
  /** In bytes; null where the browser does not say. */
  used: number | null
  most: number | null
  promised: Promised
  keepsNothing: KeepsNothing | null
  kept: KeptState | null
}

/** Pages are kept beside this one; how far that is shows without a tap. */
const askedAgainAfter = 3000

/** What this browser says of itself; null until it has answered. Asked again now and then, and whenever `turn` changes. */
export function useDeviceFacts(turn: number): DeviceFacts | null {
  const [facts, setFacts] = useState<DeviceFacts | null>(null)
  // biome-ignore lint/correctness/useExhaustiveDependencies: each turn asks again.
  useEffect(() => {
    let gone = false
    const read = () => void readFacts().then((facts) => !gone && setFacts(facts))
    read()
    const every = setInterval(read, askedAgainAfter)
    return () => {
      gone = true
      clearInterval(every)
    }
  }, [turn])
  return facts
}

async function readFacts(): Promise<DeviceFacts> {
  // Browsers have none of it on plain http.
  const storage = (navigator as { storage?: StorageManager }).storage
  const { usage = null, quota = null } = (await storage?.estimate?.().catch(() => undefined)) ?? {}
  return {
    used: usage,
    most: quota,
    promised: await promisedBy(storage),
    keepsNothing: whyKeepsNothing(),
    kept: await askKeeper({ ask: 'state' }),
  }
}

let asked = false

async function promisedBy(storage: StorageManager | undefined): Promise<Promised> {
  if (!storage?.persist) return null
  const persisted = await storage.persisted().catch(() => false)
  if (persisted || asked) return persisted
  // Some browsers put it to the person: once is enough.
  asked = true
  return storage.persist().catch(() => null)
}
