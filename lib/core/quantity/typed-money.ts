import type { Minor } from './money'

/** An amount as a person would type it into a field: 145000 → "1450", 145050 → "1450.50"; none → "". */
export function typedMoney(minor: Minor | null): string {
  if (minor === null) return ''
  return minor % 100 === 0 ? String(minor / 100) : (minor / 100).toFixed(2)
}
