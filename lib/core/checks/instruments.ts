import { comparable } from '../quantity/units'
import type { Check, Instrument, MeasuredCheck } from './catalogue'

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

/** True where its calibration had run out by that day (YYYY-MM-DD); the due day itself still counts. */
export function isOverdue({ calibrationDue }: Pick<Instrument, 'calibrationDue'>, day: string): boolean {
  return Boolean(calibrationDue) && day > calibrationDue!
}
