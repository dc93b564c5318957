import { uuidv7 } from 'uuidv7'
import type { RideShown, Rides } from '../../../../../lib/shop/read-rides'
import { ActionForm } from '../../../../_ui/action-form'
import { RadioField } from '../../../../_ui/choice-fields'
import { Field, SelectField } from '../../../../_ui/field'
import { formatNumber } from '../../../../_ui/formats'
import { HiddenField, VersionField } from '../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { rideInAction, rideOutAction } from './actions'
import { purposeChoices } from './ride-words'
import { ShowsLess } from './shows-less'

const lengthChoices = [
  { value: 'mi', label: 'miles' },
  { value: 'km', label: 'kilometres' },
]

/** What is seen and written down before the wheels turn. */
export function OutForm({ rides }: { rides: Rides }) {
  const { id, unit, last, registration, reader } = rides
  return (
    <ActionForm action={rideOutAction} label="Out">
      <HiddenField name="ride" value={uuidv7()} />
      <HiddenField name="bike" value={id} />
      <RadioField name="purpose" label="What the ride is for" choices={purposeChoices} columns={2} required />
      {/* Every field has a hint of one line, so that the boxes of a row stand level. */}
      <div className="grid gap-4 sm:grid-cols-2">
        <Field
          name="rider"
          label="Who rides"
          hint="The name on the licence."
          defaultValue={reader}
          maxLength={80}
          required
        />
        <Field
          name="licence"
          label="Licence seen"
          hint="Good for this class of bike?"
          maxLength={200}
          required
        />
        <Field
          name="cover"
          label="Cover"
          hint="What insures this rider on this bike."
          maxLength={200}
          required
        />
        <Field
          name="plates"
          label="Plates on it"
          hint="Its own, or those of the trade."
          defaultValue={registration ?? ''}
          maxLength={200}
          required
        />
      </div>
      <Field
        name="held"
        label="What is held meanwhile"
        hint="Keys, a deposit, a paper. Needed where a buyer rides."
        maxLength={200}
      />
      <div className="grid gap-4 sm:grid-cols-2">
        <Field
          name="distanceOut"
          label="On the clock"
          hint={last ? `Last known: ${formatNumber(last.distance, 0)} ${unit}.` : 'As it shows now.'}
          inputMode="decimal"
          required
        />
        <SelectField
          name="unit"
          label="Clock in"
          hint="As its face is marked."
          choices={lengthChoices}
          defaultValue={unit}
          required
        />
      </div>
      <ShowsLess of="distanceOut" />
      <div>
        <SubmitButton>Out now</SubmitButton>
      </div>
    </ActionForm>
  )
}

/** Back again: the clock, and a word on it. */
export function InForm({ ride }: { ride: RideShown }) {
  return (
    <ActionForm action={rideInAction} label="In">
      <HiddenField name="ride" value={ride.id} />
      <VersionField version={ride.version} />
      <Field
        name="distanceIn"
        label="On the clock"
        hint={`It went out at ${formatNumber(ride.distanceOut, 1)} ${ride.unit}.`}
        inputMode="decimal"
        unit={ride.unit}
        required
      />
      <ShowsLess of="distanceIn" />
      <Field
        name="note"
        label="Note"
        hint="What was felt goes into the road round, which comes next."
        maxLength={500}
      />
      <div>
        <SubmitButton>In now</SubmitButton>
      </div>
    </ActionForm>
  )
}
