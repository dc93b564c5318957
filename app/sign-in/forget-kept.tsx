'use client'

import { useEffect } from 'react'
import { askKeeper } from '../_ui/keeper'
import { emptyPack } from '../_ui/tablet-store'

/** Nobody is signed in here: what this device kept of the shop goes. What waits to be sent stays. */
export function ForgetKept() {
  useEffect(() => {
    void askKeeper({ ask: 'forget' })
    void emptyPack().catch(() => {})
  }, [])
  return null
}
