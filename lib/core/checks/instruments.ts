import { comparable, convertDifference } from '../quantity/units'
import type { Check, Instrument, MeasuredCheck } from './catalogue'
import type { ReadingInstrument } from './reading'

/** An instrument of the shop: one tool with its own figures, of a kind that the catalogue's checks name. */
export type ShopInstrument = Instrument & { of: string }

/**
 * What a check may be read with: for each kind that it names the shop's own tools, and where the shop has
 * listed none of that kind, the kind itself with its starting figures.
 */
export function instrumentsFor(check: MeasuredCheck, own: readonly ShopInstrument[]): Instrument[] {
  return check.instruments.flatMap((kind) => {
    const mine = own.filter((one) => one.of === kind.key && comparable(one.unit, check.unit))
    return mine.length > 0 ? mine.map(({ of: _, ...instrument }) => instrument) : [kind]
  })
}

/** The kinds of instrument that any check names, each once, in the order of the checks. */
export function instrumentKinds(checks: readonly Check[]): Instrument[] {
  const kinds = new Map<string, Instrument>()
  for (const check of checks) {
    if (check.sort !== 'measured') continue
    for (const kind of check.instruments) if (!kinds.has(kind.key)) kinds.set(kind.key, kind)
  }
  return [...kinds.values()]
}

/**
 * The standard uncertainty of one reading, in the instrument's unit: what the tool is off by, together with the
 * rounding to its resolution, which is as likely anywhere within half a step either side and so has a standard
 * uncertainty of (resolution ÷ 2) ÷ √3. The two add as squares (JCGM 100:2008, 5.1.2 and F.2.2.1).
 */
export function combinedUncertainty({
  resolution,
  standardUncertainty,
}: Pick<Instrument, 'resolution' | 'standardUncertainty'>): number {
  return Math.hypot(resolution / (2 * Math.sqrt(3)), standardUncertainty)
}

/** True where its calibration had run out by that day (YYYY-MM-DD); the due day itself still counts. */
export function isOverdue({ calibrationDue }: Pick<Instrument, 'calibrationDue'>, day: string): boolean {
  return Boolean(calibrationDue) && day > calibrationDue!
}

/**
 * Those of some instruments that read finer than the one that was used, the finest last: what to fetch where a
 * reading is too close to call. Without a used one all of them but the coarsest are finer than what is assumed.
 */
export function finerThan(instruments: readonly Instrument[], used: ReadingInstrument | null): Instrument[] {
  const ordered = [...instruments].sort((a, b) => fineness(b, b) - fineness(a, b))
  const against = used ?? ordered[0]
  if (!against) return []
  return ordered.filter(
    (one) => comparable(one.unit, against.unit) && fineness(one, against) < fineness(against, against),
  )
}

/** Standard uncertainty in the unit of another instrument, half a step of the scale included (GUM F.2.2.1). */
function fineness(one: ReadingInstrument, inUnitOf: ReadingInstrument): number {
  return convertDifference(combinedUncertainty(one), one.unit, inUnitOf.unit)
}
