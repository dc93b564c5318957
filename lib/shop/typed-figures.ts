import { z } from 'zod'
import { minorFromTyped } from '../core/quantity/typed-money'
import { lineOrNull, most, numberFromTyped } from './fields'

/*
 * Hours, money and parts as people type them into a form: for a job of the whole shop and for a job on one bike.
 */

const typed = z.string().trim().max(20).default('')
const three = { low: typed, likely: typed, high: typed }

/** Low, likely and high as typed: all three, or the likely one alone for a figure that is certain. */
function threeTyped(read: (text: string) => number | null, message: string) {
  return z.strictObject(three).transform((value, context) => {
    const refuseAt = (key: 'low' | 'likely' | 'high', says: string) => {
      context.addIssue({ code: 'custom', path: [key], message: says })
      return z.NEVER
    }
    const likely = read(value.likely)
    if (likely === null) return refuseAt('likely', message)
    if (value.low === '' && value.high === '') return likely
    const low = read(value.low)
    const high = read(value.high)
    if (low === null) return refuseAt('low', message)
    if (high === null) return refuseAt('high', message)
    if (low > likely) return refuseAt('low', 'Low must not be above likely.')
    if (likely > high) return refuseAt('high', 'High must not be below likely.')
    return low === high ? likely : { low, likely, high }
  })
}

const notNegative = (text: string) => {
  const value = numberFromTyped(text)
  return value !== null && value >= 0 && value <= 1000 ? value : null
}

export const hoursTyped = threeTyped(notNegative, 'Give hours in figures, like 1.5.')
export const moneyTyped = threeTyped(minorFromTyped, 'Give an amount in figures, like 45 or 45.50.')

const partTyped = z
  .strictObject({ name: lineOrNull(most.line), qty: typed, unitCost: z.strictObject(three) })
  .transform((value, context) => {
    // A line without a name is an empty one: that is how a part is taken away.
    if (value.name === null) return null
    const qty = notNegative(value.qty || '1')
    if (qty === null || qty === 0) {
      context.addIssue({ code: 'custom', path: ['qty'], message: 'Say how many are needed.' })
      return z.NEVER
    }
    const unitCost = moneyTyped.safeParse(value.unitCost)
    if (!unitCost.success) {
      for (const { path, message } of unitCost.error.issues) {
        context.addIssue({ code: 'custom', path: ['unitCost', ...path], message })
      }
      return z.NEVER
    }
    return { name: value.name, qty, unitCost: unitCost.data }
  })

/** The lines of a form by their number; empty ones are left out. */
export const partsTyped = z
  .record(z.string(), partTyped)
  .transform((lines) => Object.values(lines).filter((line) => line !== null))
