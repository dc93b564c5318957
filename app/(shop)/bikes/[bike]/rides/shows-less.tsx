'use client'

import { CheckField } from '../../../../_ui/choice-fields'
import { useFormField } from '../../../../_ui/form-context'

/** Asked only once the clock was read as showing less: most rides never need it. `of` names the field of the clock. */
export function ShowsLess({ of }: { of: string }) {
  const clock = useFormField(of)
  const { sent } = useFormField('showsLess')
  if (clock.error === null && !sent) return null
  return (
    <CheckField
      name="showsLess"
      label="The clock does show less than before"
      hint="Looked at twice. A fall makes the distance not proven."
    />
  )
}
