import { conditions } from '../../../../../lib/core/deal/comparables'
import { CheckField, RadioField } from '../../../../_ui/choice-fields'
import { distanceUnitWords } from '../../../../_ui/distance-words'
import { Field, SelectField } from '../../../../_ui/field'
import { conditionWords, marketWords } from './price-words'

const marketChoices = Object.entries(marketWords).map(([value, label]) => ({ value, label }))
const conditionChoices = [
  ...conditions.map((value) => ({ value, ...conditionWords[value] })),
  { value: 'not known', label: 'Not known', hint: 'Counts a little less.' },
]
const lengthChoices = Object.entries(distanceUnitWords).map(([value, label]) => ({ value, label }))
const askedChoices = [
  { value: 'asked', label: 'Asked', hint: 'As it stands in an advert.' },
  { value: 'sold', label: 'Sold', hint: 'What was really paid.' },
]

/** What is noted of a price; the same for a new one and for one that is corrected. */
export function PriceFields({
  typed,
  currency,
}: {
  /** By field name, as a person would have typed it. */
  typed: Readonly<Record<string, string>>
  currency: string
}) {
  return (
    <>
      <RadioField
        name="asked"
        label="Asked or sold"
        choices={askedChoices}
        defaultValue={typed.asked}
        columns={2}
        required
      />
      <Field
        name="price"
        label="Price"
        inputMode="decimal"
        unit={currency}
        defaultValue={typed.price}
        required
      />
      <RadioField
        name="market"
        label="Who sells it"
        choices={marketChoices}
        defaultValue={typed.market}
        columns={3}
        required
      />
      <div className="grid gap-4 sm:grid-cols-3">
        <Field name="year" label="Year" inputMode="numeric" defaultValue={typed.year} maxLength={4} />
        <Field name="distance" label="Distance" inputMode="decimal" defaultValue={typed.distance} />
        <SelectField
          name="distanceUnit"
          label="Distance in"
          choices={lengthChoices}
          defaultValue={typed.distanceUnit}
          required
        />
      </div>
      <RadioField
        name="condition"
        label="Condition"
        hint="As far as the advert or a look shows."
        choices={conditionChoices}
        defaultValue={typed.condition}
        columns={2}
        required
      />
      <div className="grid gap-4 sm:grid-cols-2">
        <Field
          name="lastSeenOn"
          label="Last seen, or sold on"
          type="date"
          defaultValue={typed.lastSeenOn}
          required
        />
        <Field name="firstSeenOn" label="First seen" type="date" defaultValue={typed.firstSeenOn} />
      </div>
      <div className="grid gap-4 sm:grid-cols-2">
        <Field
          name="link"
          label="Address of the advert"
          type="url"
          defaultValue={typed.link}
          maxLength={500}
        />
        <Field name="note" label="Note" defaultValue={typed.note} maxLength={200} />
      </div>
      <CheckField
        name="alone"
        label="For this bike alone"
        hint="Otherwise it counts for every bike of this make and model."
        defaultChecked={typed.alone === 'ticked'}
      />
    </>
  )
}
