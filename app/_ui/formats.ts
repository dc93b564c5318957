/**
 * How figures are written on screen and paper. One language, so that a server and a browser of another
 * language write the same text and a page does not change under the reader.
 */
const language = 'en-GB'

const minus = '\u2212'
/** A figure and its unit stay on one line. */
const space = '\u00a0'

/**
 * Making a format takes thirty times (numbers) to over a hundred times (days) as long as using it, and a page writes
 * hundreds of figures: each is made once.
 */
function madeOnce<Key, Format>(make: (key: Key) => Format): (key: Key) => Format {
  const made = new Map<Key, Format>()
  return (key) => {
    const known = made.get(key)
    if (known) return known
    const format = make(key)
    made.set(key, format)
    return format
  }
}

const money = (decimals: 0 | 2) =>
  madeOnce(
    (currency: string) =>
      new Intl.NumberFormat(language, {
        style: 'currency',
        currency,
        currencyDisplay: 'narrowSymbol',
        minimumFractionDigits: decimals,
        maximumFractionDigits: decimals,
      }),
  )
const wholeMoney = money(0)
const exactMoney = money(2)

const plain = madeOnce(
  (decimals: number) => new Intl.NumberFormat(language, { maximumFractionDigits: decimals }),
)

const day = { day: 'numeric', month: 'short', year: 'numeric' } as const
const time = { hour: '2-digit', minute: '2-digit' } as const
const ofZone = (shown: Intl.DateTimeFormatOptions) =>
  madeOnce((timeZone: string) => new Intl.DateTimeFormat(language, { ...shown, timeZone }))
const dayIn = ofZone(day)
const timeIn = ofZone(time)
const dayAndTimeIn = ofZone({ ...day, ...time })

/** Minor units as written: 145000 → £1,450; 145050 → £1,450.50; below zero with a true minus sign. */
export function formatMoney(minor: number, currency: string): string {
  const whole = Math.round(minor)
  const format = whole % 100 === 0 ? wholeMoney : exactMoney
  const text = format(currency).format(Math.abs(whole) / 100)
  return whole < 0 ? `${minus}${text}` : text
}

/** Minor units to the nearest ten major units, a half away from zero: what rests on estimates is no finer. */
export function roundedTens(minor: number): number {
  const rounded = Math.sign(minor) * Math.round(Math.abs(minor) / 1000) * 1000
  return rounded === 0 ? 0 : rounded
}

/** Money that rests on estimates, in whole tens. */
export function formatEstimate(minor: number, currency: string): string {
  return formatMoney(roundedTens(minor), currency)
}

/** A plain number with at most `decimals` places: 4.50 → 4.5. */
export function formatNumber(value: number, decimals = 2): string {
  return plain(decimals).format(value).replace(/^-0$/, '0').replace('-', minus)
}

/** Bench hours to the tenth: 2.35 → 2.4 h. */
export function formatHours(hours: number): string {
  if (hours > 0 && hours < 0.05) return `under${space}0.1${space}h`
  return `${formatNumber(hours, 1)}${space}h`
}

/** A share of one in per cent: 0.1 → 10 %. A chance that is small but not nothing is never written as 0. */
export function formatShare(share: number): string {
  if (share > 0 && share < 0.005) return `under${space}1${space}%`
  if (share < 1 && share >= 0.995) return `over${space}99${space}%`
  return `${formatNumber(share * 100, 0)}${space}%`
}

const units: Readonly<Record<string, string>> = {
  degC: '°C',
  degF: '°F',
  in32: '1/32 in',
}

/** A unit as people write it. */
export function formatUnit(unit: string): string {
  return units[unit] ?? unit
}

/** A value with its unit: 4.5 mm. */
export function formatValue(value: number, unit: string, decimals = 2): string {
  return `${formatNumber(value, decimals)}${space}${formatUnit(unit)}`
}

/** A day (YYYY-MM-DD) as written: 25 Nov 2026. */
export function formatDay(written: string): string {
  const instant = new Date(`${written}T00:00:00Z`)
  return Number.isNaN(instant.getTime()) ? written : dayIn('UTC').format(instant)
}

/** An instant (ISO 8601) on the clock of a zone: 25 Nov 2026, 14:05. */
export function formatInstant(instant: string | Date, zone: string): string {
  return dayAndTimeIn(zone).format(new Date(instant))
}

/** The time of day at an instant (ISO 8601) on the clock of a zone: 14:05. */
export function formatTime(instant: string | Date, zone: string): string {
  return timeIn(zone).format(new Date(instant))
}

/** The day of an instant (ISO 8601) on the clock of a zone, as written: 25 Nov 2026. */
export function formatDayOf(instant: string | Date, zone: string): string {
  return dayIn(zone).format(new Date(instant))
}

/** 1 bike, 2 bikes. */
export function countOf(count: number, one: string, many = `${one}s`): string {
  return `${formatNumber(count, 0)} ${count === 1 ? one : many}`
}
