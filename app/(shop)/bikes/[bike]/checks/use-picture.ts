'use client'

import { useEffect, useState } from 'react'
import { outboxOfThisTab } from '../../../../_ui/outbox/use-outbox'
import type { SeenPhoto } from './photos-seen'

const small = (id: string) => `/api/v1/photos/${id}?size=small`
const large = (id: string) => `/api/v1/photos/${id}`

/** Where the small picture of a photo is; undefined until that is known, null where this device has none. */
export function usePicture({ id, photoHere }: SeenPhoto): string | null | undefined {
  const here = usePictureHere(photoHere ? id : null)
  return photoHere ? here : small(id)
}

/** To draw on: the large picture as soon as it is there, which without a network it may never be. */
export function useLargePicture(photo: SeenPhoto): string | null | undefined {
  const { id, photoHere } = photo
  const first = usePicture(photo)
  const [loaded, setLoaded] = useState<string | null>(null)
  useEffect(() => {
    // Asked for without a network it would only be missed.
    if (photoHere || !navigator.onLine) return
    const image = new Image()
    image.onload = () => setLoaded(id)
    image.src = large(id)
    return () => {
      image.onload = null
    }
  }, [id, photoHere])
  return loaded === id ? large(id) : first
}

/** An address for the bytes on this device, which are let go of with it. */
function usePictureHere(id: string | null): string | null | undefined {
  const [address, setAddress] = useState<string | null>()
  useEffect(() => {
    if (id === null) return
    let made: string | null = null
    let isOver = false
    void outboxOfThisTab()
      .picture(id)
      .then((bytes) => {
        if (isOver) return
        made = bytes && URL.createObjectURL(bytes)
        setAddress(made)
      })
    return () => {
      isOver = true
      if (made !== null) URL.revokeObjectURL(made)
      setAddress(undefined)
    }
  }, [id])
  return address
}
