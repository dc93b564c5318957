import { uuidv7 } from 'uuidv7'
import type { BikeHead } from '../../../lib/shop/bike-head'
import type { SentShown } from '../../../lib/shop/read-parts'
import { ActionForm } from '../../_ui/action-form'
import { Disclosure } from '../../_ui/disclosure'
import { Field, SelectField } from '../../_ui/field'
import { formatDay, formatMoney } from '../../_ui/formats'
import { HiddenField, VersionField } from '../../_ui/hidden-field'
import { MoneyField } from '../../_ui/money-field'
import { SubmitButton } from '../../_ui/submit-button'
import { askOutsideAction, cameBackAction, moveDueBackAction, sendOutAction } from './actions'
import { BikeLink, bikeWords } from './bike-link'
import { dueWords } from './parts-words'

type Money = { askedOutside: ReadonlyMap<string, number | null>; currency: string } | null

/** What somebody outside has, when it is due back, and what they ask for it where money is seen. */
export function SentList({ sent, money }: { sent: readonly SentShown[]; money: Money }) {
  return (
    <ul className="flex flex-col">
      {sent.map((one) => (
        <li key={one.id} className="border-b border-rule py-3 first:pt-0">
          <div className="flex flex-wrap items-baseline justify-between gap-x-6">
            <h3>
              {one.what}
              {one.overdue && <strong className="ml-2 text-plum">Overdue</strong>}
            </h3>
            <p className="font-semibold">{one.whoHas} has it</p>
          </div>
          <p className="text-soft">
            {one.jobTitle && `${one.jobTitle}, `}
            <BikeLink bike={one.bike} />
          </p>
          <p>
            Out since {formatDay(one.sentOn)}, {one.dueOn === null ? 'no day was said' : `${dueWords(one)}`}.
            {money && ` ${askedWords(money.askedOutside.get(one.id) ?? null, money.currency)}`}
          </p>
          {one.note && <p>{one.note}</p>}
          <div className="no-print mt-2 flex flex-col gap-2">
            <BackForm sent={one} />
            <Disclosure summary={<span>They said something else</span>}>
              <DueForm sent={one} />
              {money && (
                <AskedForm
                  sent={one}
                  currency={money.currency}
                  minor={money.askedOutside.get(one.id) ?? null}
                />
              )}
            </Disclosure>
          </div>
        </li>
      ))}
    </ul>
  )
}

function askedWords(minor: number | null, currency: string): string {
  return minor === null ? 'Nobody asked what it costs.' : `They ask ${formatMoney(minor, currency)} in all.`
}

function nameOf({ what, bike }: SentShown): string {
  return `${what}, ${bikeWords(bike)}`
}

function Seen({ sent }: { sent: SentShown }) {
  return (
    <>
      <HiddenField name="sent" value={sent.id} />
      <VersionField version={sent.version} />
    </>
  )
}

function BackForm({ sent }: { sent: SentShown }) {
  return (
    <ActionForm action={cameBackAction} label={`It is back: ${nameOf(sent)}`}>
      <Seen sent={sent} />
      <div>
        <SubmitButton>It is back</SubmitButton>
      </div>
    </ActionForm>
  )
}

function DueForm({ sent }: { sent: SentShown }) {
  return (
    <ActionForm action={moveDueBackAction} label={`Due back: ${nameOf(sent)}`}>
      <Seen sent={sent} />
      <div className="grid gap-4 sm:grid-cols-2">
        <Field name="dueOn" label="Due back" type="date" defaultValue={sent.dueOn ?? undefined} required />
        <Field name="note" label="Note" maxLength={200} />
      </div>
      <div>
        <SubmitButton look="quiet">Note the day</SubmitButton>
      </div>
    </ActionForm>
  )
}

function AskedForm({ sent, minor, currency }: { sent: SentShown; minor: number | null; currency: string }) {
  return (
    <ActionForm action={askOutsideAction} label={`What they ask: ${nameOf(sent)}`}>
      <Seen sent={sent} />
      <MoneyField
        name="amount"
        label="What they ask for it in all"
        hint="It takes the place of the estimate for this work."
        currency={currency}
        defaultMinor={minor}
        required
      />
      <div>
        <SubmitButton look="quiet">Note what they ask</SubmitButton>
      </div>
    </ActionForm>
  )
}

/** Something goes out. Of one bike the jobs it may be for are offered. */
export function SendForm({
  of,
  today,
}: {
  of: { bike: BikeHead; jobs: readonly { key: string; title: string }[] } | { bikes: readonly BikeHead[] }
  today: string
}) {
  return (
    <ActionForm action={sendOutAction} label="Send something out" done="It is written down.">
      <HiddenField name="id" value={uuidv7()} />
      {'bike' in of ? (
        <>
          <HiddenField name="bike" value={of.bike.id} />
          <SelectField
            name="job"
            label="For which job"
            empty="None of the list"
            choices={of.jobs.map(({ key, title }) => ({ value: key, label: title }))}
          />
        </>
      ) : (
        <SelectField
          name="bike"
          label="Of which bike"
          empty="Choose the bike"
          choices={of.bikes.map((bike) => ({ value: bike.id, label: bikeWords(bike) }))}
          required
        />
      )}
      <div className="grid gap-4 sm:grid-cols-2">
        <Field name="what" label="What goes out" required maxLength={200} />
        <Field name="whoHas" label="Who has it" required maxLength={80} />
        <Field name="sentOn" label="Since" type="date" defaultValue={today} required />
        <Field name="dueOn" label="Due back" type="date" />
      </div>
      <Field name="note" label="Note" maxLength={200} />
      <div>
        <SubmitButton>Write it down</SubmitButton>
      </div>
    </ActionForm>
  )
}
