'use client'

import type { JobToDo } from '../../../../../lib/shop/read-bench'
import { ActionForm } from '../../../../_ui/action-form'
import { CheckGroup } from '../../../../_ui/choice-fields'
import { Field } from '../../../../_ui/field'
import { HiddenField } from '../../../../_ui/hidden-field'
import { LateDisclosure } from '../../../../_ui/late-disclosure'
import { SubmitButton } from '../../../../_ui/submit-button'
import { startJobAction } from './actions'
import { budgetOffered, openStateChoices } from './bench-words'

/** Begins a job: when to stop and ask, and what is unsafe from now on. */
export function StartForm({
  job,
  bike,
  nextId,
}: {
  job: Pick<JobToDo, 'key' | 'title' | 'hours' | 'opens'>
  bike: string
  nextId: string
}) {
  const { key, title, hours, opens } = job
  return (
    <LateDisclosure summary={<span className="font-semibold">Start it</span>}>
      {() => (
        <ActionForm action={startJobAction} label={`Start ${title}`}>
          <HiddenField name="run" value={nextId} />
          <HiddenField name="bike" value={bike} />
          <HiddenField name="job" value={key} />
          <CheckGroup
            name="opens[]"
            label="What it leaves open from now on"
            hint="Locks the engine or the road until it is put back, and goes on the tag."
            choices={openStateChoices}
            chosen={opens}
            columns={2}
          />
          <div className="grid gap-4 sm:grid-cols-2">
            <Field
              name="budgetHours"
              label="Stop and ask above"
              hint="Offered: the high end of what is expected."
              defaultValue={budgetOffered(hours)}
              inputMode="decimal"
              unit="h"
            />
            <Field
              name="stopOn"
              label="Stop and ask on finding"
              hint="Such as: a cracked casting."
              maxLength={200}
            />
          </div>
          <div>
            <SubmitButton>Start: {title}</SubmitButton>
          </div>
        </ActionForm>
      )}
    </LateDisclosure>
  )
}
