import type { KeptWhatIf } from '../../../../../lib/shop/what-ifs'
import { ActionForm } from '../../../../_ui/action-form'
import { Field } from '../../../../_ui/field'
import { formatDayOf } from '../../../../_ui/formats'
import { HiddenField } from '../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { dropWhatIfAction, keepWhatIfAction } from './actions'
import { changesSay, fieldsToKeep, type Typed } from './what-if-typed'

/** What is kept of what was tried out: opened in either column, or taken away. */
export function KeptList({
  kept,
  bike,
  currency,
  zone,
  jobTitles,
  open,
  openBeside,
}: {
  kept: readonly KeptWhatIf[]
  bike: string
  currency: string
  zone: string
  jobTitles: Readonly<Record<string, string>>
  open: (one: KeptWhatIf) => void
  openBeside: (one: KeptWhatIf) => void
}) {
  const title = (key: string) => jobTitles[key] ?? 'a job that is not on this bike any more'
  return (
    <section aria-label="Kept" className="flex flex-col gap-2">
      <h3>Kept</h3>
      <ul className="flex flex-col border-t border-rule">
        {kept.map((one) => (
          <li key={one.id} className="flex flex-col gap-2 border-b border-rule py-3">
            <p>
              <strong>{one.name}</strong>{' '}
              <span className="text-soft">
                by {one.person}, {formatDayOf(one.at, zone)}
              </span>
              <span className="block">{changesSay(one.changes, { currency, title })}</span>
            </p>
            <div className="flex flex-wrap items-center gap-3">
              <button type="button" className="btn-quiet" onClick={() => open(one)}>
                Open<span className="sr-only"> ({one.name})</span>
              </button>
              <button type="button" className="btn-quiet" onClick={() => openBeside(one)}>
                Open beside<span className="sr-only"> ({one.name})</span>
              </button>
              <ActionForm action={dropWhatIfAction} label={`Take ${one.name} away`} className="contents">
                <HiddenField name="bike" value={bike} />
                <HiddenField name="whatIf" value={one.id} />
                <HiddenField name="version" value={one.version} />
                <SubmitButton look="plain">Take it away</SubmitButton>
              </ActionForm>
            </div>
          </li>
        ))}
      </ul>
    </section>
  )
}

/** Keeps what stands in a column under a name; before it is sent nothing is stored. */
export function KeepForm({
  typed,
  start,
  bike,
  id,
  title,
}: {
  /** Of the column, which tells two of these forms apart. */
  title: string
  typed: Typed
  start: Typed
  bike: string
  id: string
}) {
  const fields = fieldsToKeep(typed, start)
  if (fields.length === 0) return null
  return (
    <ActionForm
      action={keepWhatIfAction}
      label={`Keep: ${title}`}
      done="Kept: it stands above."
      className="flex flex-col gap-3 border-t border-rule pt-4"
    >
      <HiddenField name="id" value={id} />
      <HiddenField name="bike" value={bike} />
      {fields.map(([name, value]) => (
        <HiddenField key={`${name} ${value}`} name={name} value={value} />
      ))}
      <Field
        name="name"
        label="Keep it as"
        hint="What differs is kept; the rest follows the bike."
        maxLength={80}
      />
      <div>
        <SubmitButton look="quiet">Keep it</SubmitButton>
      </div>
    </ActionForm>
  )
}
