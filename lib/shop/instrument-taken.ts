import type { Instrument, MeasuredCheck } from '../core/checks/catalogue'
import type { ReadingInstrument } from '../core/checks/reading'

/** A tool of the shop, by whatever it is known. */
type OwnTool = Omit<Instrument, 'key'> & { kind: string; calibrationDue: string | null }

/**
 * The instrument as it is when a reading is taken with it, since its figures may change later: one of the kinds the
 * check names, or a tool of the shop that is of such a kind. Null where it is neither.
 */
export function instrumentTaken(
  check: Pick<MeasuredCheck, 'instruments'>,
  { key, own }: { key: string; own: OwnTool | null },
): ReadingInstrument | null {
  const general = check.instruments.find((one) => one.key === key)
  const fits = own && check.instruments.some((kind) => kind.key === own.kind)
  const instrument = general ?? (fits ? own : null)
  if (!instrument) return null
  const { name, resolution, unit, standardUncertainty } = instrument
  const calibrationDue = general ? null : own?.calibrationDue
  return { name, resolution, unit, standardUncertainty, ...(calibrationDue && { calibrationDue }) }
}
