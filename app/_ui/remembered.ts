/*
 * Small choices kept for as long as the browser's tab is open. A browser that keeps nothing (a private window,
 * a full disk) only means that the choice is made again.
 */

export function recall(key: string): string | null {
  try {
    return sessionStorage.getItem(`stand-ledger ${key}`)
  } catch {
    return null
  }
}

export function remember(key: string, value: string): void {
  try {
    sessionStorage.setItem(`stand-ledger ${key}`, value)
  } catch {
    // Asked again next time.
  }
}
