'use client'

import Link from 'next/link'
import { useId, useRef, useState } from 'react'
import { parseDoneOn } from '../../../../../lib/core/checks/reading'
import { tyreDate } from '../../../../../lib/core/codes/tyre-date'
import { tyreSize } from '../../../../../lib/core/codes/tyre-size'
import { CalcProblem } from '../../../../../lib/core/quantity/problem'
import type { CheckShown } from '../../../../../lib/shop/read-sheet'
import { formatDay } from '../../../../_ui/formats'
import { NumberPad } from '../../../../_ui/number-pad'
import { readPad, type Said } from './recording'

type Code = Extract<CheckShown, { sort: 'code' }>
type Keys = { check: Code; asOf: string; onRecord: (said: Said) => void }

/** A code on its part or in a bill, read out while it is typed. */
export function CodeKeys(keys: Keys) {
  switch (keys.check.code) {
    case 'tyre-date':
      return <TyreDateKeys {...keys} />
    case 'tyre-size':
      return <TyreSizeField {...keys} />
    case 'done-on':
      return <DoneOnKeys {...keys} />
  }
}

/** The last group of a tyre's code, decoded while it is typed, so that one read backwards is seen at once. */
function TyreDateKeys({ check, asOf, onRecord }: Keys) {
  const [typed, setTyped] = useState('')
  const [problem, setProblem] = useState<string | null>(null)
  const box = useRef<HTMLInputElement>(null)
  const decoded = typed.length >= 3 ? decodedWords(() => dateWords(typed, asOf)) : null

  function enter() {
    const read = readPad(check, typed, null)
    const wrong = read.ok ? (decoded?.ok === false ? decoded.says : null) : read.problem
    if (!read.ok || wrong !== null) {
      setProblem(wrong)
      box.current?.focus()
      return
    }
    onRecord({ kind: 'code', value: read.value })
    setTyped('')
  }

  return (
    <>
      <NumberPad
        box={box}
        label="Last group of the code"
        hint={
          <span aria-live="polite">
            {decoded?.says ?? 'Four digits, the week and then the year; three on a tyre from before 2000.'}
          </span>
        }
        value={typed}
        problem={problem}
        decimals={false}
        mostKeys={4}
        enter="Record"
        onChange={(next) => {
          setTyped(next)
          setProblem(null)
        }}
        onEnter={enter}
      />
      {decoded?.ok && <ReadInWords code={typed} />}
    </>
  )
}

/** The size as it stands on the side wall, for a keyboard: it has letters in it. */
function TyreSizeField({ check, onRecord }: Keys) {
  const [typed, setTyped] = useState('')
  const [problem, setProblem] = useState<string | null>(null)
  const box = useRef<HTMLInputElement>(null)
  const id = useId()
  const marking = typed.trim()
  const decoded = marking.length >= 5 ? decodedWords(() => `${tyreSize({ marking }).words}.`) : null
  return (
    <form
      noValidate
      className="flex flex-col gap-2"
      onSubmit={(event) => {
        event.preventDefault()
        const read = readPad(check, typed, null)
        const tried = read.ok ? decodedWords(() => tyreSize({ marking }).words) : null
        const wrong = !read.ok ? read.problem : tried?.ok === false ? tried.says : null
        if (read.ok && wrong === null) onRecord({ kind: 'code', value: read.value })
        else {
          setProblem(wrong)
          box.current?.focus()
        }
      }}
    >
      <label htmlFor={id} className="font-semibold">
        Size, load and speed on the side wall
      </label>
      <p id={`${id}-hint`} className="text-soft" aria-live="polite">
        {decoded?.ok ? decoded.says : 'As it stands there, like 120/70 ZR17 M/C (58W) or 3.50-18 56P.'}
      </p>
      <input
        ref={box}
        id={id}
        value={typed}
        maxLength={80}
        autoComplete="off"
        autoCapitalize="characters"
        spellCheck={false}
        aria-invalid={problem !== null}
        aria-describedby={`${id}-hint${problem ? ` ${id}-problem` : ''}`}
        onChange={(event) => {
          setTyped(event.target.value)
          setProblem(null)
        }}
        className="field-box text-2xl font-semibold"
      />
      {problem && (
        <p id={`${id}-problem`} className="flex gap-2 font-semibold text-plum">
          <span aria-hidden="true">▸</span>
          {problem}
        </p>
      )}
      <button type="submit" className="btn text-lg">
        Record
      </button>
      {decoded?.ok && <ReadInWords marking={marking} />}
    </form>
  )
}

/** When something was last done: the year, the month where a bill shows it, or that nobody can say. */
function DoneOnKeys({ check, asOf, onRecord }: Keys) {
  const [year, setYear] = useState('')
  const [month, setMonth] = useState('')
  const [problem, setProblem] = useState<string | null>(null)
  const [monthProblem, setMonthProblem] = useState<string | null>(null)
  const box = useRef<HTMLInputElement>(null)
  const monthBox = useRef<HTMLInputElement>(null)

  function enter() {
    const inYear = readPad(check, year, null)
    const from = inYear.ok ? yearProblem(inYear.value, asOf) : inYear.problem
    const value = month === '' ? year : `${year}-${month.padStart(2, '0')}`
    const inMonth = from === null ? monthProblemOf(value, asOf) : null
    if (from !== null || inMonth !== null) {
      setProblem(from)
      setMonthProblem(inMonth)
      const wrong = from === null ? monthBox : box
      wrong.current?.focus()
      return
    }
    onRecord({ kind: 'code', value })
    setYear('')
    setMonth('')
  }

  return (
    <>
      <NumberPad
        box={box}
        label="Year it was last done"
        hint={`As the bill or the part shows it, like ${Number(asOf.slice(0, 4)) - 3}.`}
        value={year}
        problem={problem}
        decimals={false}
        mostKeys={4}
        enter="Record"
        beside={{
          label: 'Month, if shown',
          hint: '1 to 12; leave it empty if only the year is known.',
          value: month,
          problem: monthProblem,
          mostKeys: 2,
          box: monthBox,
          onChange: (next) => {
            setMonth(next)
            setMonthProblem(null)
          },
        }}
        onChange={(next) => {
          setYear(next)
          setProblem(null)
        }}
        onEnter={enter}
      />
      <button
        type="button"
        className="btn-quiet text-lg"
        onClick={() => onRecord({ kind: 'code', value: 'unknown' })}
      >
        Unknown: nobody can say when
      </button>
    </>
  )
}

function yearProblem(value: string, asOf: string): string | null {
  return value > asOf.slice(0, 4) ? `${value} has not come yet. Correct the year.` : null
}

function monthProblemOf(value: string, asOf: string): string | null {
  const done = parseDoneOn(value)
  if (!done) return 'Give the month as a number from 1 to 12, or leave it empty.'
  return done.known && done.from > asOf ? 'That month has not come yet. Correct it.' : null
}

/** The way to the page that tells all of a side wall. */
export function ReadInWords({ marking, code }: { marking?: string; code?: string }) {
  const asked = new URLSearchParams({ ...(marking && { marking }), ...(code && { code }) })
  return (
    <Link href={`/tyres?${asked}`} className="tap self-start">
      Read it in words
    </Link>
  )
}

function dateWords(code: string, asOf: string): string {
  const tyre = tyreDate({ code, asOf })
  const says = tyre.certain
    ? `Week ${tyre.week} of ${tyre.year} (from ${formatDay(tyre.from)}), ${tyre.ageYears} years old.`
    : `Week ${tyre.week} of ${tyre.candidates.map(({ year }) => year).join(' or ')}.`
  return [says, ...tyre.notes].join(' ')
}

function decodedWords(read: () => string): { ok: boolean; says: string } {
  try {
    return { ok: true, says: read() }
  } catch (error) {
    if (error instanceof CalcProblem) return { ok: false, says: `${error.message} ${error.hint}` }
    throw error
  }
}
