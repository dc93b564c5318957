import { uuidv7 } from 'uuidv7'
import { type RegisterAnswer, registerAnswers } from '../../../../../lib/core/checks/money-gate'
import type { IdentityPage, RegisterSaid, RegisterShown } from '../../../../../lib/shop/read-identity'
import { ActionForm } from '../../../../_ui/action-form'
import { RadioField } from '../../../../_ui/choice-fields'
import { Disclosure } from '../../../../_ui/disclosure'
import { Field } from '../../../../_ui/field'
import { formatDay, formatMoney } from '../../../../_ui/formats'
import { HiddenField } from '../../../../_ui/hidden-field'
import { MoneyField } from '../../../../_ui/money-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { noteRegisterAction } from './actions'
import { Missing } from './missing'

export const answerWords: Record<RegisterAnswer, string> = {
  clear: 'Nothing on record',
  recorded: 'On record',
  'no-answer': 'No answer yet',
}

/** Every register with the answer that counts, the earlier ones, and the form for the next. */
export function RegisterList({ page, mayNote }: { page: IdentityPage; mayNote: boolean }) {
  return (
    <div className="flex flex-col">
      {page.registers.map((shown) => (
        <section
          key={shown.register}
          id={`register-${shown.register}`}
          aria-label={`Register of ${shown.name}`}
          className="flex flex-col gap-2 border-b border-rule py-3 last:border-0"
        >
          <h3 className="first-letter:uppercase">{shown.name}</h3>
          {shown.latest && <Said said={shown.latest} currency={page.currency} />}
          <Missing page={page} of="register" about={shown.register} />
          {shown.earlier.length > 0 && (
            <Disclosure summary={`Earlier answers: ${shown.earlier.length}`}>
              <ul className="flex flex-col gap-2">
                {shown.earlier.map((said) => (
                  <li key={said.id}>
                    <Said said={said} currency={page.currency} />
                  </li>
                ))}
              </ul>
            </Disclosure>
          )}
          {mayNote && !shown.final && <AskForm shown={shown} page={page} />}
        </section>
      ))}
    </div>
  )
}

function Said({ said, currency }: { said: RegisterSaid; currency: string }) {
  const { answer, amountMinor, askedOf, day, who, note } = said
  return (
    <p>
      <strong>
        {answerWords[answer]}
        {amountMinor !== null && `, ${formatMoney(amountMinor, currency)} outstanding`}
      </strong>
      . {who} asked on {formatDay(day)}: {askedOf}
      {note && `. ${note}`}
    </p>
  )
}

function AskForm({ shown, page }: { shown: RegisterShown; page: IdentityPage }) {
  const { register, name, latest } = shown
  return (
    <div className="no-print">
      <Disclosure
        summary={<span className="font-semibold">{latest ? 'Asked again' : 'Write its answer down'}</span>}
      >
        <ActionForm action={noteRegisterAction} label={`Answer on ${name}`} done="It is written down.">
          <HiddenField name="id" value={uuidv7()} />
          <HiddenField name="bike" value={page.id} />
          <HiddenField name="register" value={register} />
          <div className="grid items-end gap-4 sm:grid-cols-2">
            <Field
              name="askedOf"
              label="Asked of"
              hint="Which office or service, and how."
              defaultValue={latest?.askedOf}
              required
              maxLength={200}
            />
            <Field name="day" label="Day" type="date" defaultValue={page.today} required />
          </div>
          <RadioField
            name="answer"
            label="It says"
            required
            columns={3}
            choices={registerAnswers.map((answer) => ({
              value: answer,
              label: answerWords[answer],
              hint:
                register === 'stolen' && answer === 'recorded'
                  ? 'Final: no later answer takes it back.'
                  : undefined,
            }))}
          />
          {register === 'finance' && (
            <MoneyField
              name="amount"
              label="Amount outstanding"
              hint="Where finance is on record."
              currency={page.currency}
            />
          )}
          <Field
            name="note"
            label="What is on record"
            hint="Needed where there is something: what, since when, its number."
            maxLength={500}
          />
          <div>
            <SubmitButton>Write it down</SubmitButton>
          </div>
        </ActionForm>
      </Disclosure>
    </div>
  )
}
