'use client'

import { useContext } from 'react'
import { FormContext } from './form-context'

/** Sent along without being shown. */
export function HiddenField({ name, value }: { name: string; value: string | number }) {
  return <input type="hidden" name={name} value={value} />
}

/**
 * The version the person saw. After a refusal because of an older version it takes the one stored now: the
 * person has then been shown both and may save over it.
 */
export function VersionField({ version }: { version: number }) {
  const { state } = useContext(FormContext)
  return <input type="hidden" name="version" value={state.theirs?.version ?? version} />
}
