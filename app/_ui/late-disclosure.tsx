'use client'

import { type ReactNode, useEffect, useRef, useState } from 'react'
import { Disclosure } from './disclosure'

/**
 * A line that opens, whose inside is made when it is first opened: where a page has many of them and each holds
 * a form, making all of them would keep a phone busy for seconds.
 */
export function LateDisclosure({ summary, children }: { summary: ReactNode; children: () => ReactNode }) {
  const [wasOpened, setWasOpened] = useState(false)
  const details = useRef<HTMLDetailsElement>(null)
  const look = () => {
    if (details.current?.open) setWasOpened(true)
  }
  // It may have been opened before this script arrived.
  useEffect(look, [])
  return (
    <Disclosure ref={details} onToggle={look} summary={summary}>
      {wasOpened && children()}
    </Disclosure>
  )
}
