'use client'

/** Opens the browser's own way to print. */
export function PrintButton() {
  return (
    <button type="button" className="btn" onClick={() => window.print()}>
      Print the tag
    </button>
  )
}
