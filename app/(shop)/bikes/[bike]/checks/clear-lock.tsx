'use client'

import { ActionForm } from '../../../../_ui/action-form'
import { RadioField } from '../../../../_ui/choice-fields'
import { Field } from '../../../../_ui/field'
import { HiddenField } from '../../../../_ui/hidden-field'
import { LateDisclosure } from '../../../../_ui/late-disclosure'
import { SubmitButton } from '../../../../_ui/submit-button'
import { clearLockAction } from './actions'

const howLong = [
  { value: 'ride', label: 'For one ride', hint: 'Over when the bike is back, after a day at the latest.' },
  { value: 'day', label: 'For one day' },
]

/** A manager's reason in the place of work or of a check. `fault` is named as the deed takes it. */
export function ClearLock({ bike, fault, title }: { bike: string; fault: string; title: string }) {
  return (
    <LateDisclosure
      summary={
        <span className="font-semibold">
          Open it with a reason<span className="sr-only">: {title}</span>
        </span>
      }
    >
      {() => (
        <ActionForm action={clearLockAction} label={`Open with a reason: ${title}`}>
          <HiddenField name="bike" value={bike} />
          <HiddenField name="fault" value={fault} />
          <RadioField
            name="for"
            label="How long"
            choices={howLong}
            defaultValue="ride"
            columns={2}
            required
          />
          <Field
            name="reason"
            label="Why it is safe to go on"
            hint="Stands in the record with your name. What is wrong or not done stays so."
            required
            maxLength={500}
          />
          <div>
            <SubmitButton>Open it</SubmitButton>
          </div>
        </ActionForm>
      )}
    </LateDisclosure>
  )
}
