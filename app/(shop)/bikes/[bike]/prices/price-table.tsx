'use client'

import { useContext } from 'react'
import type { PriceLine, PriceTrial } from '../../../../../lib/shop/comparables-csv'
import { ActionForm } from '../../../../_ui/action-form'
import { Field, TextArea } from '../../../../_ui/field'
import { FormContext } from '../../../../_ui/form-context'
import { countOf } from '../../../../_ui/formats'
import { HiddenField } from '../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { importComparablesAction } from './actions'

/** A table in two steps: what it would note, then the noting itself. */
export function PriceTable({ bike }: { bike: string }) {
  return (
    <ActionForm action={importComparablesAction} label="Noted prices out of a table">
      <HiddenField name="bike" value={bike} />
      <Steps />
    </ActionForm>
  )
}

function Steps() {
  const { state } = useContext(FormContext)
  const trial = state.answer as PriceTrial | null
  const isOpen = trial !== null && !trial.applied
  return (
    <>
      {trial && <Told trial={trial} />}
      {isOpen && trial.seen !== '' && (
        <>
          <HiddenField name="table" value={trial.table} />
          <HiddenField name="seen" value={trial.seen} />
          <div>
            <SubmitButton>
              {`Take ${countOf(trial.counts.new + trial.counts.changed, 'line')} in`}
            </SubmitButton>
          </div>
        </>
      )}
      {!(isOpen && trial.seen !== '') && (
        <>
          <Field name="file" type="file" label="A file" hint="It counts before what is pasted." />
          <TextArea
            name="table"
            label="Or pasted here"
            hint="The first line names the columns, as in the table given away here."
            rows={4}
            defaultValue={isOpen ? trial.table : ''}
          />
          <div>
            <SubmitButton look="quiet" pending="Trying …">
              Try it: nothing changes yet
            </SubmitButton>
          </div>
        </>
      )}
    </>
  )
}

const words: Record<PriceLine['is'], string> = {
  refused: 'Refused',
  new: 'New',
  changed: 'Changed',
  same: 'As it was',
}

function Told({ trial: { applied, counts, lines } }: { trial: PriceTrial }) {
  const told = lines.filter(({ is }) => is !== 'same')
  const parts = (['new', 'changed', 'refused', 'same'] as const)
    .filter((is) => counts[is] > 0)
    .map((is) => `${counts[is]} ${words[is].toLowerCase()}`)
  return (
    <>
      <p role="status" className="border-l-8 border-accent bg-wash p-3">
        <strong>{applied ? 'Taken in.' : 'Nothing is changed yet.'}</strong>{' '}
        {parts.join(', ') || 'The table has no lines'}.
        {counts.refused > 0 && ' Put the refused lines right and try again.'}
      </p>
      {!applied && told.length > 0 && (
        <ul className="flex flex-col" aria-label="What would change">
          {told.map(({ line, title, is, says }) => (
            <li
              key={line}
              className={`border-b border-l-4 border-rule py-2 pl-3 ${is === 'refused' ? 'border-l-plum' : 'border-l-accent'}`}
            >
              <p>
                <span className="text-soft">Line {line}.</span> <strong>{words[is]}</strong>: {title}
              </p>
              {says.map((one) => (
                <p key={one} className={is === 'refused' ? 'text-plum' : ''}>
                  {one}
                </p>
              ))}
            </li>
          ))}
        </ul>
      )}
    </>
  )
}
