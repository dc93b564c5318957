'use client'

import { useEffect, useRef } from 'react'

/** Something of ours broke while a page was drawn. What was typed and saved is not touched by it. */
export default function PageFault({
  error,
  retry,
}: {
  error: Error & { digest?: string }
  retry: () => void
}) {
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => heading.current?.focus(), [])
  return (
    <main id="main" className="notice">
      <h1 ref={heading} tabIndex={-1}>
        This page could not be shown
      </h1>
      <p>The fault is ours. Everything that was saved is safe.</p>
      <p>
        <button type="button" onClick={retry}>
          Try again
        </button>{' '}
        <a href="/">Back to the start</a>
      </p>
      {error.digest ? <p>Tell whoever looks after the program this number: {error.digest}</p> : null}
    </main>
  )
}
