'use client'

import './globals.css'

/** The last resort, when even the frame of the pages breaks: it can rely on nothing but itself. */
export default function FrameFault({ error }: { error: Error & { digest?: string } }) {
  return (
    <html lang="en">
      <body>
        <title>Something went wrong</title>
        <main id="main" className="notice">
          <h1>This page could not be shown</h1>
          <p>The fault is ours. Everything that was saved is safe.</p>
          <p>
            <a href="/">Back to the start</a>
          </p>
          {error.digest ? <p>Tell whoever looks after the program this number: {error.digest}</p> : null}
        </main>
      </body>
    </html>
  )
}
