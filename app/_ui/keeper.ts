import type { AskedOfKeeper, KeptState } from './kept-state'

/** Why nothing opens here without a network. */
export type KeepsNothing = 'plain-http' | 'browser'

export function whyKeepsNothing(): KeepsNothing | null {
  if (!window.isSecureContext) return 'plain-http'
  return 'serviceWorker' in navigator ? null : 'browser'
}

/** Starts the worker that keeps pages; null where this browser has none for us. */
export async function startKeeper(): Promise<ServiceWorkerRegistration | null> {
  if (whyKeepsNothing() !== null) return null
  try {
    return await navigator.serviceWorker.register(new URL('../sw.ts', import.meta.url), { scope: '/' })
  } catch {
    return null
  }
}

/** Asks the worker and waits for its answer; null where there is none that answers. */
export async function askKeeper(asked: AskedOfKeeper): Promise<KeptState | null> {
  if (whyKeepsNothing() !== null) return null
  const registration = await navigator.serviceWorker.getRegistration('/')
  const worker = registration?.active ?? registration?.waiting ?? registration?.installing
  if (!worker) return null
  const { port1, port2 } = new MessageChannel()
  return new Promise((resolve) => {
    port1.onmessage = ({ data }) => resolve(data as KeptState)
    worker.postMessage(asked, [port2])
  })
}

/** Whether a worker looks after this page, so that what was recorded must outlast the next keeping. */
export function isKept(): boolean {
  return whyKeepsNothing() === null && navigator.serviceWorker.controller !== null
}
