'use client'

import { useEffect, useState } from 'react'
import { type Look, lookCookie, lookIn } from './look'

const aYear = 365 * 24 * 60 * 60

/** Light for the sun, dark for the evening. A page that was kept on the device puts on what was chosen since. */
export function LookSwitch() {
  const [look, setLook] = useState<Look>('light')
  useEffect(() => {
    const chosen = lookIn(cookieNamed(lookCookie))
    wear(chosen)
    setLook(chosen)
  }, [])

  function choose(next: Look) {
    // biome-ignore lint/suspicious/noDocumentCookie: the other way of writing one is not there on plain http.
    document.cookie = `${lookCookie}=${next}; path=/; max-age=${aYear}; samesite=lax`
    wear(next)
    setLook(next)
  }

  return (
    <button
      type="button"
      aria-pressed={look === 'dark'}
      onClick={() => choose(look === 'dark' ? 'light' : 'dark')}
      className="tap cursor-pointer text-accent underline underline-offset-[0.18em]"
    >
      Dark screen
      <span className="ml-1 font-semibold text-ink no-underline">{look === 'dark' ? 'on' : 'off'}</span>
    </button>
  )
}

function wear(look: Look) {
  document.documentElement.dataset.look = look
}

function cookieNamed(name: string): string | undefined {
  const found = document.cookie.split('; ').find((one) => one.startsWith(`${name}=`))
  return found?.slice(name.length + 1)
}
