import Link from 'next/link'
import { ActionForm } from '../../../../_ui/action-form'
import { Field, TextArea } from '../../../../_ui/field'
import { countOf } from '../../../../_ui/formats'
import { HiddenField } from '../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { askManagerAction } from './actions'

/** Opened, and worse: what was found goes before the manager, and the bike waits with all that must not get lost. */
export function AskForm({
  bike,
  run,
  nextId,
  undone,
}: {
  bike: { id: string; viewingNo: number; photos: number }
  run: { id: string; title: string } | null
  nextId: string
  /** What is known to be open, offered as a beginning. */
  undone: string
}) {
  return (
    <ActionForm
      action={askManagerAction}
      label={run ? `Ask the manager about ${run.title}` : 'Ask the manager'}
    >
      <HiddenField name="question" value={nextId} />
      <HiddenField name="bike" value={bike.id} />
      {run && <HiddenField name="run" value={run.id} />}
      <TextArea name="asks" label="What was found, and what you ask" rows={3} required />
      <Field
        name="moreHours"
        label="More hours than the card"
        hint="Your guess. It shows the manager what it does to the bike."
        inputMode="decimal"
        unit="h"
      />
      <TextArea
        name="undone"
        label="What is undone on the bike"
        hint="So that whoever comes next neither starts it nor looks for a bolt."
        rows={2}
        defaultValue={undone}
      />
      <Field name="keptWhere" label="Where parts and boxes are kept" maxLength={200} />
      <p>
        {bike.photos > 0 && `${countOf(bike.photos, 'photo')} of this bike so far. `}
        <Link href={`/bikes/${bike.viewingNo}#photos`} className="tap">
          Take a photo of it first
        </Link>
      </p>
      <p>The clock of everybody at this bike stops, and it waits until a manager has answered.</p>
      <div>
        <SubmitButton>Ask the manager</SubmitButton>
      </div>
    </ActionForm>
  )
}
