'use client'

import { useEffect } from 'react'
import { remember, sellerSideNote } from '../../_ui/remembered'

/**
 * Draws a page anew that was drawn before the seller looked on: one that the browser brings back out of its memory,
 * and one that is open in another window.
 */
export function SameSide({ sellerSide }: { sellerSide: boolean }) {
  useEffect(() => {
    // For the page that works without a network, and then cannot ask whose side it is.
    remember(sellerSideNote, sellerSide ? 'yes' : 'no', 'device')
    const windows = new BroadcastChannel('seller-side')
    if (sellerSide) windows.postMessage('started')
    else windows.onmessage = () => window.location.reload()
    const shown = (event: PageTransitionEvent) => {
      if (event.persisted) window.location.reload()
    }
    window.addEventListener('pageshow', shown)
    return () => {
      windows.close()
      window.removeEventListener('pageshow', shown)
    }
  }, [sellerSide])
  return null
}
