import { type BikeKind, usualKind } from '../../../../lib/core/checks/bike-kind'
import { CheckField, RadioField } from '../../../_ui/choice-fields'
import { Disclosure } from '../../../_ui/disclosure'
import { type Choice, Field, SelectField, TextArea } from '../../../_ui/field'
import { MoneyField } from '../../../_ui/money-field'
import { Sheet } from '../../../_ui/sheet'

type KindQuestion = { key: keyof BikeKind; label: string; choices: readonly Choice[] }

/** In the order in which one sees it walking round the bike. */
const kindQuestions: readonly KindQuestion[] = [
  {
    key: 'finalDrive',
    label: 'Final drive',
    choices: [
      { value: 'chain', label: 'Chain' },
      { value: 'shaft', label: 'Shaft' },
      { value: 'belt', label: 'Belt' },
    ],
  },
  {
    key: 'cooling',
    label: 'Cooling',
    choices: [
      { value: 'air', label: 'Air' },
      { value: 'liquid', label: 'Liquid' },
      { value: 'oil', label: 'Oil' },
    ],
  },
  {
    key: 'fuelling',
    label: 'Fuelling',
    choices: [
      { value: 'carburettors', label: 'Carburettors' },
      { value: 'injection', label: 'Injection' },
    ],
  },
  {
    key: 'frontBrake',
    label: 'Front brake',
    choices: [
      { value: 'twin-disc', label: 'Two discs' },
      { value: 'single-disc', label: 'One disc' },
      { value: 'drum', label: 'Drum' },
    ],
  },
  {
    key: 'rearBrake',
    label: 'Rear brake',
    choices: [
      { value: 'disc', label: 'Disc' },
      { value: 'drum', label: 'Drum' },
    ],
  },
  {
    key: 'abs',
    label: 'ABS',
    choices: [
      { value: 'no', label: 'No ABS' },
      { value: 'yes', label: 'ABS' },
    ],
  },
  {
    key: 'wheels',
    label: 'Wheels',
    choices: [
      { value: 'cast', label: 'Cast' },
      { value: 'spoked', label: 'Spoked' },
    ],
  },
  {
    key: 'strokes',
    label: 'Engine',
    choices: [
      { value: 'four', label: 'Four-stroke' },
      { value: 'two', label: 'Two-stroke' },
    ],
  },
  {
    key: 'centreStand',
    label: 'Centre stand',
    choices: [
      { value: 'yes', label: 'Has one' },
      { value: 'no', label: 'Side stand only' },
    ],
  },
]

/** What most bikes have alike, asked only where this one differs. */
const rarerQuestions: readonly KindQuestion[] = [
  {
    key: 'class',
    label: 'Class',
    choices: [
      { value: 'motorcycle', label: 'Motorcycle' },
      { value: 'light', label: 'Light (125)' },
      { value: 'moped', label: 'Moped (50)' },
    ],
  },
  {
    key: 'rims',
    label: 'Rims',
    choices: [
      { value: 'alloy', label: 'Alloy' },
      { value: 'steel', label: 'Steel' },
    ],
  },
  {
    key: 'camDrive',
    label: 'Cams driven by',
    choices: [
      { value: 'chain', label: 'Chain' },
      { value: 'belt', label: 'Belt' },
      { value: 'gear', label: 'Gears or pushrods' },
    ],
  },
  {
    key: 'starter',
    label: 'Starter',
    choices: [
      { value: 'electric', label: 'Electric' },
      { value: 'kick', label: 'Kick only' },
    ],
  },
  {
    key: 'immobiliser',
    label: 'Immobiliser',
    choices: [
      { value: 'no', label: 'None' },
      { value: 'yes', label: 'Fitted' },
    ],
  },
]

/** A choice as it stands in a sentence. */
const saidOfKind: Record<keyof BikeKind, (chosen: string) => string> = {
  finalDrive: (chosen) => `${chosen} drive`,
  cooling: (chosen) => `${chosen}-cooled`,
  fuelling: (chosen) => chosen,
  frontBrake: (chosen) => `${chosen} in front`,
  rearBrake: (chosen) => `${chosen} behind`,
  abs: (chosen) => chosen.replace('abs', 'ABS'),
  wheels: (chosen) => `${chosen} wheels`,
  strokes: (chosen) => chosen,
  centreStand: (chosen) => (chosen === 'has one' ? 'centre stand' : chosen),
  class: (chosen) => chosen,
  rims: (chosen) => `${chosen} rims`,
  camDrive: (chosen) => `cams driven by ${chosen}`,
  starter: (chosen) => (chosen === 'kick only' ? chosen : `${chosen} starter`),
  immobiliser: (chosen) => (chosen === 'none' ? 'no immobiliser' : 'immobiliser'),
}

/** The kind of a bike in a few words: "Chain drive, liquid-cooled, carburettors …". */
export function kindWords(kind: BikeKind): string {
  const unusual = rarerQuestions.filter(({ key }) => kind[key] !== commonKind[key])
  const said = [...kindQuestions, ...unusual]
    .map(({ key, choices }) => {
      const chosen = choices.find(({ value }) => value === kind[key])?.label ?? kind[key]
      return saidOfKind[key](chosen.toLowerCase())
    })
    .join(', ')
  return said.charAt(0).toUpperCase() + said.slice(1)
}

export type BikeFormValues = {
  kind: BikeKind | null
  frameNumber: string
  registration: string
  make: string
  model: string
  year: string
  distance: string
  distanceUnit: string
  clockChanged: boolean
  nonRunner: boolean
  sellerName: string
  sellerContact: string
  askingMinor: number | null
  saleLowMinor: number | null
  saleLikelyMinor: number | null
  saleHighMinor: number | null
  notes: string
}

/** Of a viewing that is taken in: the most common kind, and nothing else. */
export function nothingKnown(lengthUnit: string): BikeFormValues {
  return {
    kind: commonKind,
    frameNumber: '',
    registration: '',
    make: '',
    model: '',
    year: '',
    distance: '',
    distanceUnit: lengthUnit,
    clockChanged: false,
    nonRunner: false,
    sellerName: '',
    sellerContact: '',
    askingMinor: null,
    saleLowMinor: null,
    saleLikelyMinor: null,
    saleHighMinor: null,
    notes: '',
  }
}

/** What is known of a bike, as the fields of a form: the same for a viewing taken in and for a correction. */
export function BikeFields({
  currency,
  values,
  makes,
}: {
  currency: string
  values: BikeFormValues
  /** Makes the shop has had before, offered while typing. */
  makes: readonly string[]
}) {
  return (
    <>
      <Sheet title="The bike" id="the-bike">
        <div className="grid items-end gap-4 sm:grid-cols-2">
          <Field
            name="make"
            label="Make"
            required
            defaultValue={values.make}
            suggestions={makes}
            maxLength={80}
          />
          <Field name="model" label="Model" required defaultValue={values.model} maxLength={80} />
          <Field
            name="year"
            label="Year"
            hint="In four digits. Empty means unknown."
            inputMode="numeric"
            defaultValue={values.year}
            maxLength={4}
          />
          <Field name="registration" label="Registration" defaultValue={values.registration} maxLength={20} />
          <Field
            name="frameNumber"
            label="Frame number or VIN"
            hint="As it is stamped on the frame, not as the papers say."
            defaultValue={values.frameNumber}
            maxLength={40}
          />
          <div className="grid grid-cols-[1fr_auto] items-end gap-3">
            <Field
              name="distance"
              label="Distance"
              hint="As the clock shows it."
              inputMode="decimal"
              defaultValue={values.distance}
            />
            <SelectField
              name="distanceUnit"
              label="Clock in"
              required
              defaultValue={values.distanceUnit}
              choices={[
                { value: 'mi', label: 'miles' },
                { value: 'km', label: 'km' },
              ]}
            />
          </div>
          <CheckField
            name="clockChanged"
            label="The clock was changed"
            hint="By anyone, at any time. The distance is then never proven."
            defaultChecked={values.clockChanged}
          />
          <CheckField
            name="nonRunner"
            label="It does not run"
            hint="It cannot be started where it stands."
            defaultChecked={values.nonRunner}
          />
        </div>
      </Sheet>
      <Sheet title="Kind of bike" id="kind" sub="This decides which checks there are. Correct what differs.">
        <div className="grid gap-x-6 gap-y-5 lg:grid-cols-2">
          <KindFields questions={kindQuestions} kind={values.kind} />
        </div>
        <Disclosure
          summary={`Less common: ${rarerQuestions.map(({ label }) => label.toLowerCase()).join(', ')}`}
          open={rarerQuestions.some(({ key }) => values.kind && values.kind[key] !== commonKind[key])}
        >
          <div className="grid gap-x-6 gap-y-5 pt-3 lg:grid-cols-2">
            <KindFields questions={rarerQuestions} kind={{ ...usualKind, ...values.kind }} />
          </div>
        </Disclosure>
      </Sheet>
      <Sheet title="Seller and price" id="seller">
        <div className="grid items-end gap-4 sm:grid-cols-2">
          <Field name="sellerName" label="Seller" defaultValue={values.sellerName} maxLength={80} />
          <Field
            name="sellerContact"
            label="How to reach the seller"
            hint="Telephone or address."
            defaultValue={values.sellerContact}
            maxLength={200}
          />
          <MoneyField
            name="asking"
            label="Asking price"
            hint="What the seller wants."
            currency={currency}
            defaultMinor={values.askingMinor}
          />
        </div>
      </Sheet>
      <Sheet
        title="Sale price"
        id="sale"
        sub="What this bike would fetch here with everything right. Give all three, or come back to it later."
      >
        <SaleFields currency={currency} values={values} />
      </Sheet>
      <Sheet title="Notes" id="notes">
        <TextArea
          name="notes"
          label="Notes"
          hint="What the seller says, what came with it."
          defaultValue={values.notes}
        />
      </Sheet>
    </>
  )
}

/** Low, likely and high. */
export function SaleFields({
  currency,
  values,
}: {
  currency: string
  values: Pick<BikeFormValues, 'saleLowMinor' | 'saleLikelyMinor' | 'saleHighMinor'>
}) {
  return (
    <div className="grid gap-4 sm:grid-cols-3">
      <MoneyField
        name="saleLow"
        label="Low"
        hint="On a bad day."
        currency={currency}
        defaultMinor={values.saleLowMinor}
      />
      <MoneyField
        name="saleLikely"
        label="Likely"
        hint="Most often."
        currency={currency}
        defaultMinor={values.saleLikelyMinor}
      />
      <MoneyField
        name="saleHigh"
        label="High"
        hint="On a good day."
        currency={currency}
        defaultMinor={values.saleHighMinor}
      />
    </div>
  )
}

function KindFields({
  questions,
  kind,
}: {
  questions: readonly KindQuestion[]
  kind: Partial<BikeKind> | null
}) {
  return questions.map(({ key, label, choices }) => (
    <RadioField
      key={key}
      name={`kind.${key}`}
      label={label}
      required
      columns={choices.length === 3 ? 3 : 2}
      choices={choices}
      defaultValue={kind?.[key] ?? ''}
    />
  ))
}

/** The most common kind among older machines, so that only what differs has to be touched. */
export const commonKind: BikeKind = {
  finalDrive: 'chain',
  cooling: 'air',
  fuelling: 'carburettors',
  frontBrake: 'twin-disc',
  rearBrake: 'disc',
  abs: 'no',
  wheels: 'cast',
  strokes: 'four',
  centreStand: 'yes',
  ...usualKind,
}
