import { uuidv7 } from 'uuidv7'
import type { SpendShown, Spent } from '../../../../../lib/shop/spent'
import { ActionForm } from '../../../../_ui/action-form'
import { RadioField } from '../../../../_ui/choice-fields'
import { Disclosure } from '../../../../_ui/disclosure'
import { Field, SelectField } from '../../../../_ui/field'
import { countOf, formatInstant, formatMoney, formatNumber } from '../../../../_ui/formats'
import { HiddenField, VersionField } from '../../../../_ui/hidden-field'
import { MoneyField } from '../../../../_ui/money-field'
import { Sheet } from '../../../../_ui/sheet'
import { SubmitButton } from '../../../../_ui/submit-button'
import { minutesWords } from '../bench/bench-words'
import { noteSpendAction, priceSpendAction, takeBackSpendAction } from './actions'

type Shown = { bike: string; currency: string; zone: string }

/** What has gone into the bike so far, each line with what can be set right in it. */
export function SpentSheet({ spent, ...shown }: Shown & { spent: Spent }) {
  const { lines, isOwned, unpriced, minutes, sumMinor } = spent
  if (!isOwned && lines.length === 0) return null
  return (
    <Sheet
      id="spent"
      title={`Spent so far: ${formatMoney(sumMinor, shown.currency)}`}
      sub={
        <>
          On parts and outside work. {minutes > 0 && `${minutesWords(minutes)} at the bench beside it. `}
          What is done is in the margin; what is under way stays in the estimate until it is done.
        </>
      }
    >
      {unpriced > 0 && <p className="mb-2 font-semibold">{countOf(unpriced, 'part')} without a price yet.</p>}
      {lines.length > 0 && (
        <ul className="flex flex-col">
          {lines.map((line) => (
            <li key={line.id} className="border-b border-rule py-2 first:pt-0">
              <Line line={line} {...shown} />
            </li>
          ))}
        </ul>
      )}
      {isOwned && (
        <div className="no-print">
          <Disclosure summary={<span className="font-semibold">Note what was spent</span>}>
            <NoteForm runs={spent.runs} {...shown} />
          </Disclosure>
        </div>
      )}
    </Sheet>
  )
}

function Line({ line, currency, zone }: Omit<Shown, 'bike'> & { line: SpendShown }) {
  const { id, version, kind, what, number, qty, amountMinor, job, underWay, who, at } = line
  const saved = (
    <>
      <HiddenField name="spend" value={id} />
      <VersionField version={version} />
    </>
  )
  const many = qty === 1 ? '' : ` × ${formatNumber(qty)}`
  return (
    <>
      <div className="flex flex-wrap items-baseline justify-between gap-x-6">
        <span className="font-semibold">
          {what}
          {many}
        </span>
        <span className="num">
          {amountMinor === null ? 'no price yet' : formatMoney(amountMinor, currency)}
        </span>
      </div>
      <p className="text-soft">
        {kind === 'outside' ? 'Outside work' : 'Part'}
        {number && `, number ${number}`}
        {job && `, for ${job}${underWay ? ', under way' : ''}`}. {who}, {formatInstant(at, zone)}
      </p>
      <div className="no-print">
        <Disclosure summary={<span>{amountMinor === null ? 'Price it' : 'Set it right'}</span>}>
          <ActionForm action={priceSpendAction} label={`Price of ${what}`}>
            {saved}
            <MoneyField
              name="amount"
              label="What it came to in all"
              currency={currency}
              defaultMinor={amountMinor}
              required
            />
            <div>
              <SubmitButton look="quiet">Set the price</SubmitButton>
            </div>
          </ActionForm>
          <ActionForm action={takeBackSpendAction} label={`Take back: ${what}`}>
            {saved}
            <Field name="reason" label="Why it counts no more" required maxLength={500} />
            <div>
              <SubmitButton look="quiet">Take it back</SubmitButton>
            </div>
          </ActionForm>
        </Disclosure>
      </div>
    </>
  )
}

const kindChoices = [
  { value: 'part', label: 'A part', hint: 'Or fluid, or what else went in.' },
  { value: 'outside', label: 'Outside work', hint: 'Done by somebody else, for a bill.' },
]

function NoteForm({ runs, bike, currency }: Shown & Pick<Spent, 'runs'>) {
  return (
    <ActionForm action={noteSpendAction} label="Note what was spent" done="It is written down.">
      <HiddenField name="id" value={uuidv7()} />
      <HiddenField name="bike" value={bike} />
      <RadioField
        name="kind"
        label="What it was"
        choices={kindChoices}
        defaultValue="part"
        columns={2}
        required
      />
      <div className="grid gap-4 sm:grid-cols-2">
        <Field name="what" label="In words" required maxLength={200} />
        <Field name="number" label="Number on it" maxLength={80} />
        <Field name="qty" label="How many" inputMode="decimal" defaultValue="1" />
        <MoneyField name="amount" label="What it came to in all" currency={currency} required />
      </div>
      <SelectField
        name="run"
        label="For which work"
        empty="The bike as a whole"
        choices={runs.map(({ id, title }) => ({ value: id, label: title }))}
      />
      <div>
        <SubmitButton>Write it down</SubmitButton>
      </div>
    </ActionForm>
  )
}
