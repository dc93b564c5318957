/** By zone: making one takes over a hundred times as long as using it. */
const dayFormats = new Map<string, Intl.DateTimeFormat>()

function dayFormat(timeZone: string): Intl.DateTimeFormat {
  const known = dayFormats.get(timeZone)
  if (known) return known
  const made = new Intl.DateTimeFormat('en-CA', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  })
  dayFormats.set(timeZone, made)
  return made
}

/** The day it is at an instant in a zone, as YYYY-MM-DD. */
export function dayIn(zone: string, instant: Date): string {
  const parts = dayFormat(zone).formatToParts(instant)
  const part = (type: string) => parts.find((p) => p.type === type)?.value ?? ''
  return `${part('year')}-${part('month')}-${part('day')}`
}

export function isZone(zone: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: zone })
    return true
  } catch {
    return false
  }
}

export function secondsLater(instant: Date, seconds: number): Date {
  return new Date(instant.getTime() + seconds * 1000)
}

/** Minutes since midnight by the clock of a zone. */
export function minuteIn(zone: string, instant: Date): number {
  const parts = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  }).formatToParts(instant)
  const part = (type: string) => Number(parts.find((p) => p.type === type)?.value ?? 0)
  return part('hour') * 60 + part('minute')
}
