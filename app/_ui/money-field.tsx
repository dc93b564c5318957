'use client'

import { typedMoney } from '../../lib/core/quantity/typed-money'
import { Field, type FieldProps } from './field'

/** An amount of money, typed in major units: 1450 or 1450.50. It is sent as typed. */
export function MoneyField({
  currency,
  defaultMinor = null,
  ...field
}: Omit<FieldProps, 'defaultValue'> & { currency: string; defaultMinor?: number | null }) {
  return <Field {...field} inputMode="decimal" unit={currency} defaultValue={typedMoney(defaultMinor)} />
}
