'use client'

import { useId, useState } from 'react'
import type { Unit } from '../../../../../lib/core/quantity/units'
import type { CheckShown } from '../../../../../lib/shop/read-sheet'
import { emptyForm, type FormState } from '../../../../../lib/web/form-state'
import { RadioField } from '../../../../_ui/choice-fields'
import { Disclosure } from '../../../../_ui/disclosure'
import { Field, SelectField } from '../../../../_ui/field'
import { FormContext } from '../../../../_ui/form-context'
import { FormMessage } from '../../../../_ui/form-message'
import { formatUnit } from '../../../../_ui/formats'
import type { LimitFigures } from './recording'

type Measured = Extract<CheckShown, { sort: 'measured' }>

/** A limit for this one bike: what is stamped on the part, or what the maker's sheet says. */
export function LimitForm({ check, onLimit }: { check: Measured; onLimit: (figures: LimitFigures) => void }) {
  const [state, setState] = useState<FormState>(emptyForm)
  /** Counted up to draw the fold anew, shut, once a limit was set. */
  const [set, setSet] = useState(0)
  const prefix = useId()

  function send(form: FormData) {
    const read = readFigures(form, check)
    if (read.ok) {
      onLimit(read.figures)
      setSet(set + 1)
      setState(emptyForm)
    } else {
      const count = Object.keys(read.fields).length
      const message = count === 1 ? 'One field needs another look.' : `${count} fields need another look.`
      setState({ ...emptyForm, typed: read.typed, fields: read.fields, message, turn: state.turn + 1 })
    }
  }

  return (
    <Disclosure key={set} summary={<span className="font-semibold">Set a limit for this bike</span>}>
      <FormContext value={{ prefix, state }}>
        <form
          noValidate
          aria-label="Set a limit for this bike"
          className="flex flex-col gap-4 pt-2"
          onSubmit={(event) => {
            event.preventDefault()
            send(new FormData(event.currentTarget))
          }}
        >
          <FormMessage />
          <div key={state.turn} className="contents">
            <RadioField
              name="source"
              label="Where does the figure stand?"
              required
              choices={[
                { value: 'stamped', label: 'Stamped on the part' },
                { value: 'maker', label: 'In the maker’s sheet' },
              ]}
            />
            <div className="grid grid-cols-1 gap-4">
              <Field name="min" label="Least" inputMode="decimal" maxLength={10} />
              <Field name="max" label="Most" inputMode="decimal" maxLength={10} />
              <Field name="asNew" label="New" inputMode="decimal" maxLength={10} />
            </div>
            <div className="grid grid-cols-1 gap-4">
              <SelectField
                name="unit"
                label="Unit"
                required
                defaultValue={check.units[0] ?? check.unit}
                choices={check.units.map((unit) => ({ value: unit, label: formatUnit(unit) }))}
              />
              {check.positions.length > 1 && (
                <SelectField
                  name="position"
                  label="Where it holds"
                  empty="Everywhere"
                  choices={check.positions.map(({ key, label }) => ({ value: key, label }))}
                />
              )}
            </div>
            <Field name="note" label="Where exactly" hint="Which sheet, which part." maxLength={200} />
          </div>
          <div>
            <button type="submit" className="btn-quiet">
              Set this limit
            </button>
          </div>
        </form>
      </FormContext>
    </Disclosure>
  )
}

type Read =
  | { ok: true; figures: LimitFigures }
  | { ok: false; fields: Record<string, string>; typed: Record<string, string> }

/** Looked at here, since the answer of the server may be a long way off; the server looks at it again. */
function readFigures(form: FormData, check: Measured): Read {
  const typed = Object.fromEntries([...form].map(([name, value]) => [name, String(value).trim()]))
  const fields: Record<string, string> = {}
  const figure = (name: 'min' | 'max' | 'asNew'): number | null => {
    const text = typed[name] ?? ''
    if (text === '') return null
    if (/^-?\d+([.,]\d+)?$/.test(text)) return Number(text.replace(',', '.'))
    fields[name] = 'Enter a number, or leave it empty.'
    return null
  }
  const [min, max, asNew] = [figure('min'), figure('max'), figure('asNew')]
  const { source, unit, position, note } = typed
  if (source !== 'stamped' && source !== 'maker') fields.source = 'Say where the figure stands.'
  if (min === null && max === null && !fields.min && !fields.max) {
    fields.min = 'Give a lowest or a highest value.'
  }
  if (min !== null && max !== null && min > max) fields.max = 'The highest must not be below the lowest.'
  const chosen = check.units.find((one) => one === unit)
  if (!chosen) fields.unit = 'Choose the unit.'
  if (Object.keys(fields).length > 0 || !chosen) return { ok: false, fields, typed }
  return {
    ok: true,
    figures: {
      source: source as LimitFigures['source'],
      unit: chosen satisfies Unit,
      position: position || null,
      note: note || null,
      min,
      max,
      asNew,
    },
  }
}
