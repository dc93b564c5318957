'use client'

import { useContext } from 'react'
import type { ImportDone, ImportShown, LineOfImport } from '../../../../../../lib/shop/model-limits'
import { ActionForm } from '../../../../../_ui/action-form'
import { FieldFrame, TextArea } from '../../../../../_ui/field'
import { FormContext, useFormField } from '../../../../../_ui/form-context'
import { countOf } from '../../../../../_ui/formats'
import { HiddenField } from '../../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../../_ui/submit-button'
import { importModelLimitsAction } from './actions'

/** A table in two steps: what it would change, then the change itself. */
export function ImportForm({
  model: { make, model },
  back,
}: {
  model: { make: string; model: string }
  back: string
}) {
  return (
    <ActionForm action={importModelLimitsAction} label="Limits out of a table">
      <HiddenField name="make" value={make} />
      <HiddenField name="model" value={model} />
      <Steps back={back} />
    </ActionForm>
  )
}

function Steps({ back }: { back: string }) {
  const { state } = useContext(FormContext)
  const answer = state.answer as ImportShown | ImportDone | null
  if (answer?.step === 'shown') return <WouldChange shown={answer} back={back} />
  return (
    <>
      {answer?.step === 'done' && (
        <p role="status" className="border-l-8 border-blue bg-blue-wash p-3">
          {answer.changed === 0
            ? 'Nothing was to change.'
            : `${countOf(answer.changed, 'limit')} changed. They hold from now on.`}
        </p>
      )}
      <FileField />
      <TextArea
        name="csv"
        label="Or its lines, pasted"
        hint="The first line names the columns, as in the table this sheet gives away."
        rows={4}
      />
      <div>
        <SubmitButton look="quiet" pending="Reading …">
          Show what would change
        </SubmitButton>
      </div>
    </>
  )
}

function FileField() {
  const field = useFormField('file')
  return (
    <FieldFrame name="file" label="Table (CSV)" id={field.id}>
      <input id={field.id} name="file" type="file" accept=".csv,text/csv" className="field-box" />
    </FieldFrame>
  )
}

function WouldChange({
  shown: { csv, seen, lines, same, refused },
  back,
}: {
  shown: ImportShown
  back: string
}) {
  const changes = lines.length - refused
  return (
    <>
      <p role="status" className="border-l-8 border-accent bg-wash p-3">
        <strong>Nothing is changed yet.</strong> {countOf(changes, 'line')} would change something, {same}{' '}
        stay as they are{refused > 0 ? `, ${countOf(refused, 'line')} cannot be taken` : ''}.
      </p>
      {lines.length > 0 && (
        <ul className="flex flex-col" aria-label="What would change">
          {lines.map((one) => (
            <PlannedLine key={one.line} one={one} />
          ))}
        </ul>
      )}
      <div className="flex flex-wrap items-center gap-4">
        {refused === 0 && changes > 0 && (
          <>
            <HiddenField name="csv" value={csv} />
            <HiddenField name="seen" value={seen} />
            <HiddenField name="agreed" value="yes" />
            <SubmitButton>
              {changes === 1 ? 'Make this change' : `Make these ${changes} changes`}
            </SubmitButton>
          </>
        )}
        <a className="tap" href={back}>
          {refused > 0 ? 'Mend the table and read it again' : 'Read another table'}
        </a>
      </div>
    </>
  )
}

const words: Record<LineOfImport['does'], string> = {
  new: 'New',
  change: 'Changed',
  'take back': 'Taken back',
  refused: 'Cannot be taken',
}

function PlannedLine({ one: { line, check, at, does, from, to, why } }: { one: LineOfImport }) {
  return (
    <li
      className={`border-b border-rule py-2 pl-3 border-l-4 ${does === 'refused' ? 'border-l-plum' : 'border-l-accent'}`}
    >
      <p>
        <span className="text-soft">Line {line}.</span> <strong>{check}</strong>
        {at && `, ${at}`}: <strong>{words[does]}</strong>
      </p>
      {why && <p className="text-plum">{why}</p>}
      {(from || to) && (
        <p>
          {from ?? 'nothing'} → {to ?? 'nothing'}
        </p>
      )}
    </li>
  )
}
