'use client'

import { useRouter } from 'next/navigation'
import { useEffect } from 'react'
import { Notice } from '../../_ui/notes'

/** Says that something changed since the plan was made, and brings the new one as soon as it is there. */
export function WorkedOutAgain() {
  const router = useRouter()
  useEffect(() => {
    const timer = setInterval(() => router.refresh(), 1500)
    return () => clearInterval(timer)
  }, [router])
  return (
    <Notice title="Being worked out again.">
      Something changed since this plan was made. The new one comes by itself in a moment; without scripts,
      load the page again.
    </Notice>
  )
}
