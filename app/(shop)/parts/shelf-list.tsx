import { uuidv7 } from 'uuidv7'
import type { BikeHead } from '../../../lib/shop/bike-head'
import type { ShelfShown } from '../../../lib/shop/read-parts'
import { ActionForm } from '../../_ui/action-form'
import { RadioField } from '../../_ui/choice-fields'
import { Disclosure } from '../../_ui/disclosure'
import { Field, SelectField } from '../../_ui/field'
import { formatNumber } from '../../_ui/formats'
import { HiddenField, VersionField } from '../../_ui/hidden-field'
import { SubmitButton } from '../../_ui/submit-button'
import { fitFromShelfAction, putOnShelfAction, takeOffShelfAction } from './actions'
import { bikeWords } from './bike-link'
import { pieces } from './parts-words'

/** What lies on the shelf, where it came from, and what it could stand in for. */
export function ShelfList({ shelf }: { shelf: readonly ShelfShown[] }) {
  return (
    <ul className="flex flex-col">
      {shelf.map((part) => (
        <li key={part.id} className="border-b border-rule py-3 first:pt-0">
          <div className="flex flex-wrap items-baseline justify-between gap-x-6">
            <h3>{pieces(part.what, part.left)}</h3>
            {part.place && <p className="font-semibold">{part.place}</p>}
          </div>
          <p>
            {part.condition === 'new' ? 'New' : 'Used'}, fits {part.fits}
            {part.number && `, number ${part.number}`}.{part.from && ` Off ${bikeWords(part.from)}.`}
          </p>
          <p className="text-soft">{part.story}</p>
          <div className="no-print mt-2 flex flex-col gap-2">
            {part.needs.map((need) => (
              <UseForm key={`${need.bike.id} ${need.job} ${need.part}`} part={part} need={need} />
            ))}
            <Disclosure summary={<span>It is gone</span>}>
              <ActionForm action={takeOffShelfAction} label={`Gone from the shelf: ${nameOf(part)}`}>
                <HiddenField name="shelf" value={part.id} />
                <VersionField version={part.version} />
                <Field
                  name="reason"
                  label="What became of it"
                  hint="Sold, thrown away, not found."
                  required
                  maxLength={500}
                />
                <div>
                  <SubmitButton look="quiet">Take it off the shelf</SubmitButton>
                </div>
              </ActionForm>
            </Disclosure>
          </div>
        </li>
      ))}
    </ul>
  )
}

function nameOf({ what, place, fits }: ShelfShown): string {
  return [what, fits, place].filter(Boolean).join(', ')
}

function UseForm({ part, need }: { part: ShelfShown; need: ShelfShown['needs'][number] }) {
  const qty = Math.min(part.left, need.qty)
  return (
    <ActionForm
      action={fitFromShelfAction}
      label={`Use ${nameOf(part)} for ${need.title}, ${bikeWords(need.bike)}`}
      className="flex flex-wrap items-center gap-x-4 gap-y-2 border-2 border-blue bg-blue-wash p-3"
    >
      <HiddenField name="id" value={uuidv7()} />
      <HiddenField name="shelf" value={part.id} />
      <HiddenField name="bike" value={need.bike.id} />
      <HiddenField name="job" value={need.job} />
      <HiddenField name="part" value={need.part} />
      <HiddenField name="qty" value={qty} />
      <p className="min-w-0 grow">
        {bikeWords(need.bike)} lacks {pieces(need.part, need.qty)} for {need.title}.
      </p>
      <SubmitButton look="quiet">Use {qty === 1 ? 'it' : formatNumber(qty)} there</SubmitButton>
    </ActionForm>
  )
}

const conditions = [
  { value: 'used', label: 'Used' },
  { value: 'new', label: 'New' },
]

/** Taken off a bike that is broken, or left over. */
export function ShelfForm({ bikes }: { bikes: readonly BikeHead[] }) {
  return (
    <ActionForm action={putOnShelfAction} label="Put something on the shelf" done="It is on the shelf.">
      <HiddenField name="id" value={uuidv7()} />
      <div className="grid gap-4 sm:grid-cols-2">
        <Field
          name="what"
          label="What it is"
          hint="One word for one part: Tank, Seat."
          required
          maxLength={200}
        />
        <SelectField
          name="bike"
          label="Off which bike"
          hint="One of the shop's own that is broken for parts."
          empty="None of the shop's"
          choices={bikes.map((bike) => ({ value: bike.id, label: bikeWords(bike) }))}
        />
        <Field name="fitsMake" label="Fits make" required maxLength={80} />
        <Field name="fitsModel" label="Fits model" required maxLength={80} />
        <Field name="number" label="Number on it" maxLength={80} />
        <Field name="qty" label="How many" inputMode="decimal" defaultValue="1" />
        <Field name="place" label="Where it lies" maxLength={80} />
      </div>
      <RadioField
        name="condition"
        label="Used or new"
        hint="No used tyres, pads, shoes or hoses: what has worn them cannot be seen."
        choices={conditions}
        defaultValue="used"
        columns={2}
        required
      />
      <Field
        name="story"
        label="Where it came from"
        hint="How it was, and why it was taken off."
        required
        maxLength={200}
      />
      <div>
        <SubmitButton>Put it on the shelf</SubmitButton>
      </div>
    </ActionForm>
  )
}
