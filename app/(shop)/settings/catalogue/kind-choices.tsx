import { bikeKindValues } from '../../../../lib/core/checks/bike-kind'
import { Disclosure } from '../../../_ui/disclosure'
import type { Choice } from '../../../_ui/field'
import { type FormFacts, TicksField } from './entry-form'

const partWords: Record<keyof typeof bikeKindValues, string> = {
  finalDrive: 'Final drive',
  cooling: 'Cooling',
  fuelling: 'Fuelling',
  frontBrake: 'Front brake',
  rearBrake: 'Rear brake',
  abs: 'ABS',
  wheels: 'Wheels',
  strokes: 'Strokes',
  centreStand: 'Centre stand',
  class: 'Class',
  rims: 'Rims',
  camDrive: 'Cam drive',
  starter: 'Starter',
  immobiliser: 'Immobiliser',
}

const choices: readonly Choice[] = Object.entries(bikeKindValues).flatMap(([part, values]) =>
  values.map((value) => ({
    value: `${part}:${value}`,
    label: `${partWords[part as keyof typeof bikeKindValues]}: ${value.replace('-', ' ')}`,
  })),
)

/** For which bikes an entry of the shop's own is there; a starting entry keeps its own. */
export function KindChoices({ of }: { of: FormFacts }) {
  if (!of.own) return null
  const some = (of.typed['appliesTo[]'] ?? '') !== ''
  return (
    <Disclosure summary="Only for some kinds of bike" open={some}>
      <TicksField
        of={of}
        name="appliesTo[]"
        label="Only for"
        hint="Nothing ticked: for every bike. Of what belongs together one must hold, and each that is ticked must."
        columns={3}
        choices={choices}
      />
    </Disclosure>
  )
}
