'use client'

import { useRef, useState } from 'react'
import type { CheckShown } from '../../../../../lib/shop/read-sheet'
import { NumberPad } from '../../../../_ui/number-pad'
import { readPad, type Said } from './recording'

type Counted = Extract<CheckShown, { sort: 'number' }>

/** A number noted: a count, a distance. */
export function NumberKeys({ check, onRecord }: { check: Counted; onRecord: (said: Said) => void }) {
  const [typed, setTyped] = useState('')
  const [problem, setProblem] = useState<string | null>(null)
  const box = useRef<HTMLInputElement>(null)
  return (
    <NumberPad
      box={box}
      label={`How many ${check.unitWord}?`}
      value={typed}
      problem={problem}
      enter="Record"
      onChange={(next) => {
        setTyped(next)
        setProblem(null)
      }}
      onEnter={() => {
        const read = readPad(check, typed, null)
        if (read.ok) {
          onRecord({ kind: 'number', value: read.value })
          setTyped('')
        } else {
          setProblem(read.problem)
          box.current?.focus()
        }
      }}
    />
  )
}
