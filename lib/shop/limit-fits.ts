import type { Check, MeasuredCheck } from '../core/checks/catalogue'
import { withUnit } from '../core/checks/says'
import { comparable, convert, type Unit } from '../core/quantity/units'
import { refuseField } from './refusal'

const figureNames = ['min', 'max', 'asNew', 'saleMin', 'saleMax'] as const

/**
 * Refused at its field where the check has no limit, no such position, is measured in other units, or where a
 * figure is one that no reading of it can have: a comma typed for a point makes 4,523 mm of 4.523.
 */
export function requireLimitFits(
  checks: readonly Check[],
  typed: { check: string; unit: Unit; position: string | null } & Record<
    (typeof figureNames)[number],
    number | null
  >,
): MeasuredCheck {
  const { check: key, unit, position } = typed
  const check = checks.find((one) => one.key === key)
  if (check?.sort !== 'measured') return refuseField('check', 'This check has no limit to set.')
  if (!comparable(unit, check.unit)) refuseField('unit', `Choose ${check.units.join(' or ')}.`)
  if (position !== null && !check.positions.some((one) => one.key === position))
    refuseField('position', 'This check has no such position. Leave it empty for all of them.')
  const { min, max } = check.plausible
  for (const name of figureNames) {
    const value = typed[name]
    if (value === null) continue
    const read = convert(value, unit, check.unit)
    if (read < min || read > max)
      refuseField(
        name,
        `No reading of this check can be that: give ${withUnit(min, check.unit)} to ${withUnit(max, check.unit)}.`,
      )
  }
  return check
}
