'use client'

import { useActionState } from 'react'
import type { EntryKind } from '../../../../lib/core/checks/catalogue-problems'
import type { TableLine, TableTrial } from '../../../../lib/shop/import-catalogue'
import { emptyForm, type FormState } from '../../../../lib/web/form-state'
import { Field, TextArea } from '../../../_ui/field'
import { FormContext } from '../../../_ui/form-context'
import { FormMessage } from '../../../_ui/form-message'
import { countOf } from '../../../_ui/formats'
import { HiddenField } from '../../../_ui/hidden-field'
import { Sheet } from '../../../_ui/sheet'
import { SubmitButton } from '../../../_ui/submit-button'
import { importCatalogueAction } from './actions'

/** Takes a table in: first a trial that changes nothing, then, after its lines were seen, all of it. */
export function TableForm({ kind }: { kind: EntryKind }) {
  const [state, send] = useActionState(importCatalogueAction, emptyForm as FormState<TableTrial>)
  const trial = state.answer
  return (
    <div className="flex flex-col gap-6">
      <Sheet title="Take it in" sub="The first step changes nothing: it shows line by line what would.">
        <FormContext value={{ prefix: 'table', state }}>
          <form action={send} aria-label="Take a table in" className="flex flex-col gap-5" noValidate>
            <FormMessage done={trial && saidOf(trial)} />
            <div key={state.turn} className="flex flex-col gap-5">
              <HiddenField name="kind" value={kind} />
              <Field name="file" type="file" label="A file" hint="It counts before what is pasted." />
              <TextArea
                name="table"
                label="Or pasted here"
                rows={6}
                defaultValue={trial && !trial.applied ? trial.table : ''}
              />
              <div>
                <SubmitButton look={trial?.seen ? 'quiet' : 'main'} pending="Trying …">
                  Try it: nothing changes yet
                </SubmitButton>
              </div>
            </div>
          </form>
        </FormContext>
      </Sheet>
      {trial && <Trial trial={trial} send={send} />}
    </div>
  )
}

function saidOf({ applied, counts }: TableTrial): string {
  const { changed, refused, same } = counts
  const parts = [
    changed > 0 && `${changed} changed`,
    counts.new > 0 && `${counts.new} new`,
    same > 0 && `${same} as they were`,
    refused > 0 && `${refused} refused`,
  ]
  const told = parts.filter(Boolean).join(', ') || 'no lines'
  if (applied) return `Taken in: ${told}.`
  if (refused > 0)
    return `Tried: ${told}. Nothing is taken in while a line is refused. Put those right and try again.`
  return changed + counts.new === 0
    ? `Tried: ${told}. There is nothing to take in.`
    : `Tried: ${told}. Nothing has changed yet.`
}

const words: Record<TableLine['is'], string> = {
  refused: 'Refused',
  new: 'New',
  changed: 'Changed',
  same: 'As it was',
}
const order = ['refused', 'new', 'changed'] as const

function Trial({ trial, send }: { trial: TableTrial; send: (form: FormData) => void }) {
  const told = order.flatMap((is) => trial.lines.filter((line) => line.is === is))
  if (told.length === 0) return null
  const count = trial.counts.changed + trial.counts.new
  return (
    <Sheet title={trial.applied ? 'What was taken in' : 'What would change'}>
      <div className="flex flex-col gap-4">
        <ul className="flex flex-col">
          {told.map((line) => (
            <li key={line.line} className="border-b border-rule py-2">
              <p>
                <span className="font-semibold">{line.title || 'Without a title'}</span>{' '}
                <span className={line.is === 'refused' ? 'font-semibold text-plum' : 'text-soft'}>
                  {words[line.is]}, line {line.line}
                </span>
              </p>
              <ul>
                {line.refusals.map(({ line: at, column, says }) => (
                  <li key={`${at} ${column} ${says}`} className="text-plum">
                    Line {at}, {column}: {says}
                  </li>
                ))}
                {line.changes.map(({ column, from, to }) => (
                  <li key={column}>
                    {column}: {line.is !== 'new' && `${from === '' ? 'nothing' : from} → `}
                    <strong>{to === '' ? 'nothing' : to}</strong>
                  </li>
                ))}
              </ul>
            </li>
          ))}
        </ul>
        {trial.seen !== '' && (
          <form action={send} aria-label="Take it in now">
            <HiddenField name="kind" value={trial.kind} />
            <HiddenField name="table" value={trial.table} />
            <HiddenField name="seen" value={trial.seen} />
            <SubmitButton pending="Taking it in …">Take in {countOf(count, 'line')}</SubmitButton>
          </form>
        )}
      </div>
    </Sheet>
  )
}
