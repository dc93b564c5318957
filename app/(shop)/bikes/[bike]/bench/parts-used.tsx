import { uuidv7 } from 'uuidv7'
import type { PartUsed } from '../../../../../lib/shop/read-bench'
import { ActionForm } from '../../../../_ui/action-form'
import { Disclosure } from '../../../../_ui/disclosure'
import { Field } from '../../../../_ui/field'
import { formatNumber } from '../../../../_ui/formats'
import { HiddenField, VersionField } from '../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { notePartAction, takeBackPartAction } from './actions'

type OfRun = { run: { id: string; title: string; used: readonly PartUsed[] } }

/** What went in, by name and number: what it cost is noted where money is seen. */
export function PartsUsed({ run }: OfRun) {
  if (run.used.length === 0) return null
  return (
    <ul aria-label={`Parts used for ${run.title}`}>
      {run.used.map((part) => (
        <li key={part.id} className="flex flex-wrap items-center justify-between gap-x-4">
          <span>
            Part used: {partWords(part)}. <span className="text-soft">{part.who}</span>
          </span>
          <ActionForm
            action={takeBackPartAction}
            label={`Take back: ${part.what}, ${run.title}`}
            className="no-print"
          >
            <HiddenField name="spend" value={part.id} />
            <VersionField version={part.version} />
            <SubmitButton look="quiet">Take it back</SubmitButton>
          </ActionForm>
        </li>
      ))}
    </ul>
  )
}

function partWords({ what, number, qty }: PartUsed): string {
  const many = qty === 1 ? '' : ` × ${formatNumber(qty)}`
  return `${what}${many}${number && `, number ${number}`}`
}

export function PartForm({ run, bike }: OfRun & { bike: string }) {
  return (
    <Disclosure summary={<span className="font-semibold">A part went in</span>}>
      <ActionForm action={notePartAction} label={`Part for ${run.title}`} done="It is written down.">
        <HiddenField name="id" value={uuidv7()} />
        <HiddenField name="bike" value={bike} />
        <HiddenField name="run" value={run.id} />
        <div className="grid gap-4 sm:grid-cols-3">
          <Field name="what" label="Part" required maxLength={200} />
          <Field name="number" label="Number on it" maxLength={80} />
          <Field name="qty" label="How many" inputMode="decimal" defaultValue="1" />
        </div>
        <div>
          <SubmitButton>Write it down</SubmitButton>
        </div>
      </ActionForm>
    </Disclosure>
  )
}
