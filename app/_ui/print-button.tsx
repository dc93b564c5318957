'use client'

import type { ReactNode } from 'react'

/** Opens the browser's own way to print. */
export function PrintButton({ children }: { children: ReactNode }) {
  return (
    <button type="button" className="btn" onClick={() => window.print()}>
      {children}
    </button>
  )
}
