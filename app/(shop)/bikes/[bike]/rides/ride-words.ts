import type { RidePurpose } from '../../../../../lib/shop/rides'

export const purposeWords: Record<RidePurpose, { label: string; hint: string }> = {
  test: { label: 'Test ride', hint: 'To find out what it does.' },
  final: { label: 'Final ride', hint: 'After the last work, before it is ready.' },
  buyer: { label: 'A buyer rides', hint: 'See the licence yourself and hold something meanwhile.' },
  delivery: { label: 'Delivery', hint: 'Ridden to its buyer or to another place.' },
}

export const purposeChoices = Object.entries(purposeWords).map(([value, words]) => ({ value, ...words }))
