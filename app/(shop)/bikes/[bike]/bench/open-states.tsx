import Link from 'next/link'
import type { OpenStateShown } from '../../../../../lib/shop/read-bench'
import { ActionForm } from '../../../../_ui/action-form'
import { CheckField, RadioField } from '../../../../_ui/choice-fields'
import { Disclosure } from '../../../../_ui/disclosure'
import { Field } from '../../../../_ui/field'
import { formatInstant } from '../../../../_ui/formats'
import { HiddenField, VersionField } from '../../../../_ui/hidden-field'
import { Caution } from '../../../../_ui/notes'
import { SubmitButton } from '../../../../_ui/submit-button'
import { declareOpenAction, putBackAction } from './actions'
import { openStateChoices } from './bench-words'

/** What work left unsafe, said before anything else on the page, each with the way to end it. */
export function OpenStates({
  states,
  viewingNo,
  zone,
}: {
  states: readonly OpenStateShown[]
  viewingNo: number
  zone: string
}) {
  if (states.length === 0) return null
  return (
    <section id="open" aria-label="Open on this bike" className="flex flex-col gap-3">
      {states.map((state) => (
        <Caution key={state.id} title={state.title}>
          <p className="text-xl font-semibold">{state.tag}</p>
          <p>
            {state.note && `${state.note}. `}
            {state.who}, {formatInstant(state.at, zone)}
            {state.job && `, for ${state.job}`}.
          </p>
          <div className="no-print mt-2">
            <ActionForm
              action={putBackAction}
              label={`Put back: ${state.title}`}
              className="flex flex-col gap-3"
            >
              <HiddenField name="state" value={state.id} />
              <VersionField version={state.version} />
              <CheckField name="inOrder" label={state.putBack} hint="Tick it when all of it is in order." />
              <div>
                <SubmitButton look="quiet">Put back</SubmitButton>
              </div>
            </ActionForm>
          </div>
        </Caution>
      ))}
      <p className="no-print">
        <Link href={`/bikes/${viewingNo}/tag`} className="btn-quiet">
          Tag for the ignition
        </Link>
      </p>
    </section>
  )
}

/** Something is unsafe that no job on the list left open. */
export function DeclareOpen({ bike, nextId }: { bike: string; nextId: string }) {
  return (
    <Disclosure summary={<span className="font-semibold">Something else is open or loose</span>}>
      <ActionForm action={declareOpenAction} label="Say what is open" done="It is written down and locks.">
        <HiddenField name="id" value={nextId} />
        <HiddenField name="bike" value={bike} />
        <RadioField name="kind" label="What is open" choices={openStateChoices} columns={2} required />
        <Field name="note" label="Where, and why" maxLength={200} />
        <div>
          <SubmitButton>Write it down</SubmitButton>
        </div>
      </ActionForm>
    </Disclosure>
  )
}
