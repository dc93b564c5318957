'use client'

import { useRouter } from 'next/navigation'
import { useEffect, useRef, useTransition } from 'react'
import { countOf } from '../_ui/formats'

/** Milliseconds before a page asks anew: a bike takes some tenths of a second, many of them a while. */
const first = 500
const most = 4000

/**
 * Says that figures are being worked out, and brings them when they are there: the page is asked for anew, with longer
 * and longer breaks, until nothing is missing. Without scripts a reload does the same.
 */
export function ComingFigures({ count }: { count: number }) {
  const router = useRouter()
  const [asking, begin] = useTransition()
  const wait = useRef(first)
  useEffect(() => {
    if (count === 0) {
      wait.current = first
      return
    }
    if (asking) return
    const timer = setTimeout(() => {
      wait.current = Math.min(most, wait.current * 1.5)
      begin(() => router.refresh())
    }, wait.current)
    return () => clearTimeout(timer)
  }, [count, asking, router])
  return (
    <p role="status" className="no-print empty:hidden">
      {count > 0 &&
        `${countOf(count, 'bike')} being worked out: the new figures come by themselves, and a reload brings them too.`}
    </p>
  )
}
