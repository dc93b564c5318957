'use client'

import { useState } from 'react'
import { FieldFrame, type FieldProps } from './field'
import { described, useFormField } from './form-context'

/**
 * Photos from the camera or the device. A browser never gives chosen files back, so after a refusal the field
 * says that they must be chosen again.
 */
export function PhotoField({
  name,
  label,
  hint = 'JPEG, PNG or WebP.',
  required,
  multiple = true,
  camera = false,
}: Omit<FieldProps, 'defaultValue'> & { multiple?: boolean; camera?: boolean }) {
  const field = useFormField(name)
  const [chosen, setChosen] = useState<string[]>([])
  return (
    <FieldFrame name={name} label={label} hint={hint} required={required} id={field.id}>
      <input
        id={field.id}
        name={name}
        type="file"
        accept="image/jpeg,image/png,image/webp"
        multiple={multiple}
        capture={camera ? 'environment' : undefined}
        aria-invalid={field.error !== null}
        aria-describedby={described(field, hint)}
        onChange={(event) => setChosen([...(event.target.files ?? [])].map((file) => file.name))}
        className="field-box file:mr-3 file:min-h-11 file:cursor-pointer file:border-0 file:bg-wash file:px-4
          file:font-semibold file:text-ink"
      />
      <p aria-live="polite" className="text-soft">
        {chosen.length > 1 && `${chosen.length} photos chosen.`}
        {chosen.length === 0 && field.cameBack && 'Choose the photos again: the browser does not keep them.'}
      </p>
    </FieldFrame>
  )
}
