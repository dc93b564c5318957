import { uuidv7 } from 'uuidv7'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { fitsKind } from '../../lib/core/checks/bike-kind'
import type { Check, GatedRound } from '../../lib/core/checks/catalogue'
import { bikeKindInput } from '../../lib/shop/bike-fields'
import { setBikeLimit } from '../../lib/shop/bike-limit'
import type { Context } from '../../lib/shop/deed'
import { recordReading } from '../../lib/shop/record-reading'
import { chainDriven, done } from './open-shop'
import { look, measured } from './readings'

const kind = bikeKindInput.parse(chainDriven)

type Asked = {
  bike: string
  /** Which checks; all that guard the rounds or note a torque where nothing is said. */
  only?: (check: Check) => boolean
  takenAt?: string
}

/** Whether a check guards a round. */
export const guards = (round: GatedRound) => (check: Check) => check.gate?.opens.includes(round) ?? false

const isFastener = (check: Check) => check.sort === 'measured' && check.fastener !== undefined

/** Does the checks that guard the rounds, and the torques, and finds everything good; limits are entered where there are none. */
export async function findSound(context: Context, { bike, only, takenAt = '2026-11-25T11:58:00Z' }: Asked) {
  const asked = only ?? ((check: Check) => check.gate !== undefined || isFastener(check))
  for (const check of startingCatalogue.checks) {
    if (!fitsKind(kind, check.appliesTo) || !asked(check)) continue
    const said = { takenAt, conditions: check.conditions ?? [] }
    if (check.sort === 'look') {
      const good = check.answers.find(({ tone }) => tone === 'good')
      if (!good) throw new Error(`${check.key} has no good answer`)
      done(await recordReading(look(bike, [check.key, good.key], said), context))
    } else if (check.sort === 'measured') {
      const { key, unit, positions, plausible } = check
      const value = soundValue(key)
      const least = Math.max(plausible.min, value * 0.5)
      const most = Math.min(plausible.max, value * 2)
      const range = { min: String(least), max: String(most), asNew: '', unit }
      const limit = { id: uuidv7(), bike, check: key, source: 'stamped', ...range }
      if (!isFastener(check) && check.limit === null) done(await setBikeLimit(limit, context))
      for (const position of positions) {
        const reading = { ...said, check: key, position: position.key, unit, instrument: null }
        done(await recordReading(measured(bike, String(value), reading), context))
      }
    } else throw new Error(`${check.key} is neither looked at nor measured`)
  }
}

function soundValue(check: string): number {
  if (check.startsWith('tyre-pressure')) return 250
  if (check.startsWith('torque')) return 40
  if (check.startsWith('chain')) return 30
  return 4
}
