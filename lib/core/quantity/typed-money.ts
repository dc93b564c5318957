import type { Minor } from './money'

/** An amount as a person would type it into a field: 145000 → "1450", 145050 → "1450.50"; none → "". */
export function typedMoney(minor: Minor | null): string {
  if (minor === null) return ''
  return minor % 100 === 0 ? String(minor / 100) : (minor / 100).toFixed(2)
}

/**
 * Money as people type it, in major units, to whole minor units: "1450", "1,450.50", "1 450,50". A comma with
 * three digits behind it parts thousands; with one or two it is a decimal comma.
 */
export function minorFromTyped(typed: string): number | null {
  const bare = typed.replace(/[\s\u00a0'’]/g, '').replace(/^[^\d.,-]+/, '')
  const match =
    /^(\d{1,3}(?:,\d{3})+|\d+)(?:\.(\d{1,2}))?$/.exec(bare) ??
    /^(\d{1,3}(?:\.\d{3})+|\d+)(?:,(\d{1,2}))?$/.exec(bare)
  if (!match) return null
  const whole = Number((match[1] ?? '').replace(/[.,]/g, ''))
  const minor = whole * 100 + Number((match[2] ?? '').padEnd(2, '0') || 0)
  return minor <= mostMinor ? minor : null
}

/** Amounts are kept in 32 bits: at most 21,474,836.47. */
export const mostMinor = 2_147_483_647
