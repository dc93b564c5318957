'use client'

import { useEffect, useState } from 'react'
import { recall, remember } from './remembered'

/**
 * One of a few values, offered again where it was chosen before in this tab. Read after the first drawing,
 * because the server that drew it does not know.
 */
export function useRemembered<T extends string>(
  key: string,
  values: readonly T[],
  first: T | null,
): [T | null, (value: T) => void] {
  const [value, setValue] = useState(first)
  const known = values.join()
  useEffect(() => {
    const before = recall(key)
    const found = known.split(',').find((one) => one === before)
    if (found !== undefined) setValue(found as T)
  }, [key, known])
  return [
    value,
    (next) => {
      setValue(next)
      remember(key, next)
    },
  ]
}
