'use client'

import { useRef, useState } from 'react'
import { isOverdue, type ShopInstrument } from '../../../../../lib/core/checks/instruments'
import { kindOf, type Unit } from '../../../../../lib/core/quantity/units'
import type { CheckShown } from '../../../../../lib/shop/read-sheet'
import { formatDay, formatUnit } from '../../../../_ui/formats'
import { NumberPad } from '../../../../_ui/number-pad'
import { TapChoice } from '../../../../_ui/tap-choice'
import { useRemembered } from '../../../../_ui/use-remembered'
import type { SeenCheck, SeenReading } from './as-seen-here'
import { readingWords } from './reading-words'
import { earlierAt, readEngineSpeed, readPad, type Said } from './recording'
import { type Tool, toolsFor, useInstrument } from './use-instrument'

type Measured = Extract<CheckShown, { sort: 'measured' }>

/** A measured value: where, with what, in which unit, and the number. It moves on to the next place by itself. */
export function MeasureKeys({
  row,
  check,
  own,
  asOf,
  correcting,
  swept,
  onRecord,
}: {
  row: SeenCheck
  check: Measured
  /** The shop's own tools. */
  own: readonly ShopInstrument[]
  asOf: string
  correcting: SeenReading | null
  /** Places read again since it was asked for. */
  swept: readonly (string | null)[]
  onRecord: (said: Said) => void
}) {
  const [typed, setTyped] = useState('')
  const [problem, setProblem] = useState<string | null>(null)
  const [speed, setSpeed] = useState(String(correcting?.engineSpeed ?? ''))
  const [speedProblem, setSpeedProblem] = useState<string | null>(null)
  const [chosen, setChosen] = useState<string | null>(null)
  const [unit, setUnit] = useRemembered<Unit>(
    `unit of ${kindOf(check.unit)}`,
    check.units,
    check.units[0] ?? check.unit,
  )
  const tools = toolsFor(check, own)
  const [tool, setTool] = useInstrument(check, tools)
  const box = useRef<HTMLInputElement>(null)
  const speedBox = useRef<HTMLInputElement>(null)

  const told = valuesByPosition(row)
  const waiting =
    check.positions.find(({ key }) => told.get(key) === undefined) ??
    check.positions.find(({ key }) => !swept.includes(key))
  const position = correcting
    ? correcting.position
    : (chosen ?? waiting?.key ?? check.positions[0]?.key ?? null)
  const place = check.positions.find(({ key }) => key === position)

  function enter() {
    const read = readPad(check, typed, unit)
    const engine = readEngineSpeed(check.needsEngineSpeed ? speed : '')
    if (!read.ok || !engine.ok) {
      setProblem(read.ok ? null : read.problem)
      setSpeedProblem(engine.ok ? null : engine.problem)
      const wrong = read.ok ? speedBox : box
      wrong.current?.focus()
      return
    }
    const instrument = tool?.key ?? null
    onRecord({ kind: 'measured', value: read.value, unit, position, instrument, engineSpeed: engine.value })
    setTyped('')
    setProblem(null)
    setSpeed('')
    setSpeedProblem(null)
    setChosen(null)
    requestAnimationFrame(() => box.current?.focus())
  }

  return (
    <>
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
      {(tools.length > 1 || tools.some((one) => isOverdue(one, asOf))) && (
        <TapChoice
          label={
            <>
              With what?{' '}
              {tool === null && (
                <span className="font-normal text-soft">Left open, the coarsest is assumed.</span>
              )}
            </>
          }
          choices={tools.map((one) => ({
            value: one.key,
            label: one.name,
            note: calibrationNote(one, asOf),
          }))}
          chosen={tool?.key ?? null}
          onChoose={setTool}
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
      {!correcting && <Earlier row={row} position={position} />}
      <NumberPad
        box={box}
        label={place && check.positions.length > 1 ? `Reading: ${place.label}` : 'Reading'}
        unit={formatUnit(unit ?? check.unit)}
        value={typed}
        problem={problem}
        negative={check.plausible.min < 0}
        enter={correcting ? 'Correct' : 'Record'}
        beside={
          check.needsEngineSpeed
            ? {
                label: 'Engine speed',
                unit: 'rpm',
                hint: 'Without it the reading is kept and not judged.',
                value: speed,
                problem: speedProblem,
                mostKeys: 5,
                box: speedBox,
                onChange: (next) => {
                  setSpeed(next)
                  setSpeedProblem(null)
                },
              }
            : undefined
        }
        onChange={(next) => {
          setTyped(next)
          setProblem(null)
        }}
        onEnter={enter}
      />
    </>
  )
}

function calibrationNote(tool: Tool, asOf: string): string | undefined {
  if (!tool.calibrationDue) return undefined
  const day = formatDay(tool.calibrationDue)
  return isOverdue(tool, asOf) ? `Calibration ran out on ${day}` : `Calibrated until ${day}`
}

/** Where the place was read on an earlier day, that no mean of then and now will be made. */
function Earlier({ row, position }: { row: SeenCheck; position: string | null }) {
  const [earlier] = earlierAt(row, position, new Date())
  if (!earlier) return null
  return (
    <p className="border-l-8 border-accent bg-wash p-2">
      Read here before: <strong>{readingWords(row.check, earlier)}</strong> on{' '}
      {formatDay(earlier.takenAt.slice(0, 10))}. What is measured now takes its place.
    </p>
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
