/*
 * Small choices kept for as long as the browser's tab is open, or on the device for good. A browser that keeps
 * nothing (a private window, a full disk) only means that the choice is made again.
 */

/** `tab`: until it is closed; `device`: from one day to the next, as which tool of the shop lies beside it. */
export type KeptIn = 'tab' | 'device'

const shelves = { tab: () => sessionStorage, device: () => localStorage } as const

export function recall(key: string, keptIn: KeptIn = 'tab'): string | null {
  try {
    return shelves[keptIn]().getItem(`stand-ledger ${key}`)
  } catch {
    return null
  }
}

export function remember(key: string, value: string, keptIn: KeptIn = 'tab'): void {
  try {
    shelves[keptIn]().setItem(`stand-ledger ${key}`, value)
  } catch {
    // Asked again next time.
  }
}

/** Whether the seller looks on, as the last page of the shop knew: "yes" or "no". */
export const sellerSideNote = 'seller side'
