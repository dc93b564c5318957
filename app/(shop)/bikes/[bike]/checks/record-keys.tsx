'use client'

import { useRef, useState } from 'react'
import type { Condition } from '../../../../../lib/core/checks/catalogue'
import { tyreDate } from '../../../../../lib/core/codes/tyre-date'
import { CalcProblem } from '../../../../../lib/core/quantity/problem'
import { kindOf, type Unit } from '../../../../../lib/core/quantity/units'
import type { CheckShown } from '../../../../../lib/shop/read-sheet'
import { formatDay, formatUnit } from '../../../../_ui/formats'
import { NumberPad } from '../../../../_ui/number-pad'
import { TapChoice } from '../../../../_ui/tap-choice'
import { useRemembered } from '../../../../_ui/use-remembered'
import type { SeenCheck, SeenReading } from './as-seen-here'
import { readPad, type Said } from './recording'
import { conditionSaid } from './round-words'

type Measured = Extract<CheckShown, { sort: 'measured' }>

/** A measured value: where, with what, in which unit, and the number. It moves on to the next place by itself. */
export function MeasureKeys({
  row,
  check,
  holding,
  correcting,
  onRecord,
  onHold,
}: {
  row: SeenCheck
  check: Measured
  holding: readonly Condition[]
  correcting: SeenReading | null
  onRecord: (said: Said) => void
  onHold: (condition: Condition) => void
}) {
  const [typed, setTyped] = useState('')
  const [problem, setProblem] = useState<string | null>(null)
  const [chosen, setChosen] = useState<string | null>(null)
  const [unit, setUnit] = useRemembered<Unit>(
    `unit of ${kindOf(check.unit)}`,
    check.units,
    check.units[0] ?? check.unit,
  )
  const instruments = check.instruments.map(({ key }) => key)
  const [instrument, setInstrument] = useRemembered(
    `instrument of ${instruments.join(' ')}`,
    instruments,
    instruments.length === 1 ? (instruments[0] ?? null) : null,
  )
  const box = useRef<HTMLInputElement>(null)

  const told = valuesByPosition(row)
  const waiting = check.positions.find(({ key }) => told.get(key) === undefined)
  const position = correcting
    ? correcting.position
    : (chosen ?? waiting?.key ?? check.positions[0]?.key ?? null)
  const place = check.positions.find(({ key }) => key === position)

  function enter() {
    const read = readPad(check, typed, unit)
    if (!read.ok) {
      setProblem(read.problem)
      box.current?.focus()
      return
    }
    onRecord({ kind: 'measured', value: read.value, unit, position, instrument })
    setTyped('')
    setProblem(null)
    setChosen(null)
    requestAnimationFrame(() => box.current?.focus())
  }

  return (
    <>
      <Lacking check={check} holding={holding} onHold={onHold} />
      {!correcting && check.positions.length > 1 && (
        <TapChoice
          label="Where?"
          choices={check.positions.map(({ key, label }) => ({
            value: key,
            label,
            note: told.get(key) ?? 'to do',
          }))}
          chosen={position}
          onChoose={(next) => {
            setChosen(next)
            box.current?.focus()
          }}
        />
      )}
      {check.instruments.length > 1 && (
        <TapChoice
          label={
            <>
              With what?{' '}
              {instrument === null && (
                <span className="font-normal text-soft">Left open, the coarsest is assumed.</span>
              )}
            </>
          }
          choices={check.instruments.map(({ key, name }) => ({ value: key, label: name }))}
          chosen={instrument}
          onChoose={setInstrument}
        />
      )}
      {check.units.length > 1 && (
        <TapChoice
          label="In which unit?"
          choices={check.units.map((one) => ({ value: one, label: formatUnit(one) }))}
          chosen={unit}
          onChoose={setUnit}
        />
      )}
      <NumberPad
        box={box}
        label={place && check.positions.length > 1 ? `Reading: ${place.label}` : 'Reading'}
        unit={formatUnit(unit ?? check.unit)}
        value={typed}
        problem={problem}
        negative={check.plausible.min < 0}
        enter={correcting ? 'Correct' : 'Record'}
        onChange={(next) => {
          setTyped(next)
          setProblem(null)
        }}
        onEnter={enter}
      />
    </>
  )
}

/** What must hold for the reading to be judged and is not said yet: each a tap away. */
function Lacking({
  check,
  holding,
  onHold,
}: {
  check: Measured
  holding: readonly Condition[]
  onHold: (condition: Condition) => void
}) {
  const lacking = (check.conditions ?? []).filter((condition) => !holding.includes(condition))
  if (lacking.length === 0) return null
  return (
    <fieldset className="border-l-8 border-ochre bg-ochre-wash p-3">
      <legend className="sr-only">What must hold</legend>
      <p>Judged only if this holds; otherwise the reading is kept and not judged.</p>
      <div className="mt-2 flex flex-wrap gap-2">
        {lacking.map((condition) => (
          <button key={condition} type="button" className="btn-quiet" onClick={() => onHold(condition)}>
            {conditionSaid[condition]}: yes
          </button>
        ))}
      </div>
    </fieldset>
  )
}

/** The judged value at each position that has one, as people say it. */
function valuesByPosition({ judgement, check }: SeenCheck): Map<string, string> {
  const values = new Map<string, string>()
  if (!('found' in judgement) || judgement.found?.sort !== 'measured' || check.sort !== 'measured')
    return values
  for (const { position, value } of judgement.found.positions) {
    if (position !== null && value !== null) {
      values.set(position, `${Number(value.toPrecision(4))} ${formatUnit(check.unit)}`)
    }
  }
  return values
}

type Code = Extract<CheckShown, { sort: 'code' }>

/** The date code of a tyre, read out while it is typed, so that one read backwards is seen at once. */
export function CodeKeys({
  check,
  asOf,
  onRecord,
}: {
  check: Code
  asOf: string
  onRecord: (said: Said) => void
}) {
  const [typed, setTyped] = useState('')
  const [problem, setProblem] = useState<string | null>(null)
  const box = useRef<HTMLInputElement>(null)
  const decoded = typed.length >= 3 ? decodedWords(typed, asOf) : null

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
  )
}

function decodedWords(code: string, asOf: string): { ok: boolean; says: string } {
  try {
    const tyre = tyreDate({ code, asOf })
    const says = tyre.certain
      ? `Week ${tyre.week} of ${tyre.year} (from ${formatDay(tyre.from)}), ${tyre.ageYears} years old.`
      : `Week ${tyre.week} of ${tyre.candidates.map(({ year }) => year).join(' or ')}.`
    return { ok: true, says: [says, ...tyre.notes].join(' ') }
  } catch (error) {
    if (error instanceof CalcProblem) return { ok: false, says: `${error.message} ${error.hint}` }
    throw error
  }
}

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
