import type { RidePurpose } from '../../../../../lib/shop/rides'

export const purposeWords: Record<RidePurpose, { label: string; hint: string }> = {
  test: { label: 'Test ride', hint: 'To find out what it does.' },
  final: { label: 'Final ride', hint: 'After the last work, before it is ready.' },
  buyer: { label: 'A buyer rides', hint: 'See the licence yourself and hold something meanwhile.' },
  delivery: { label: 'Delivery', hint: 'Ridden to its buyer or to another place.' },
}

export const purposeChoices = Object.entries(purposeWords).map(([value, words]) => ({ value, ...words }))

/** The time of day at an instant (ISO 8601) on the clock of a zone: 14:05. */
export function timeIn(zone: string, instant: string): string {
  const format = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', timeZone: zone })
  return format.format(new Date(instant))
}
