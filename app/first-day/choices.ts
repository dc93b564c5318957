import type { Choice } from '../_ui/field'

/** Currencies with a hundred smaller units, by code, with their names. */
export function currencyChoices(): Choice[] {
  const names = new Intl.DisplayNames('en-GB', { type: 'currency' })
  return Intl.supportedValuesOf('currency')
    .filter(hasHundredParts)
    .map((code) => ({ value: code, label: `${code} · ${names.of(code)}` }))
}

function hasHundredParts(currency: string): boolean {
  const format = new Intl.NumberFormat('en', { style: 'currency', currency })
  return format.resolvedOptions().maximumFractionDigits === 2
}

export function knownZones(): string[] {
  return Intl.supportedValuesOf('timeZone')
}

/** Whose law of the road counts; where it is another, the shop enters the figures itself. */
export const countryChoices = [
  { value: 'GB', label: 'United Kingdom' },
  { value: 'DE', label: 'Germany' },
  { value: 'AT', label: 'Austria' },
  { value: 'US', label: 'United States' },
  { value: 'other', label: 'Another: we enter its limits ourselves' },
] as const

/** The zone of the machine's own clock: the shop usually stands where its machine does. */
export function zoneHere(): string {
  return new Intl.DateTimeFormat().resolvedOptions().timeZone
}
