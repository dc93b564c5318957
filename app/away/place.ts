'use client'

import { useEffect, useState } from 'react'

export const partsOfViewing = ['deal', 'round', 'prices', 'offer', 'sheet'] as const
export type PartOfViewing = (typeof partsOfViewing)[number]

/** Where on this page one is. It stands behind the # of the address, since no other page is there without a network. */
export type Place = { at: 'list' } | { at: 'new' } | { at: 'viewing'; bike: string; part: PartOfViewing }

export function placeOf(hash: string): Place | null {
  if (hash === '' || hash === '#' || hash === '#/') return { at: 'list' }
  const [bike = '', named] = hash.startsWith('#/') ? hash.slice(2).split('/') : []
  // Anything else leads to a place on the page: a field, the end of the links on top.
  if (bike === '') return null
  if (bike === 'new') return { at: 'new' }
  return { at: 'viewing', bike, part: partsOfViewing.find((part) => part === named) ?? 'deal' }
}

export const listAddress = '#/'
export const newAddress = '#/new'
export const addressOf = (bike: string, part: PartOfViewing) => `#/${bike}/${part}`

export function goTo(hash: string): void {
  window.location.hash = hash
}

/** The place one is at, as the address says. */
export function usePlace(): Place {
  const [place, setPlace] = useState<Place>({ at: 'list' })
  useEffect(() => {
    const look = () => setPlace((before) => placeOf(window.location.hash) ?? before)
    look()
    window.addEventListener('hashchange', look)
    return () => window.removeEventListener('hashchange', look)
  }, [])
  return place
}
