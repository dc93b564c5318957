import { z } from 'zod'
import { minorFromTyped, mostMinor } from '../core/quantity/typed-money'

/** Limits that forms and server share. */
export const most = {
  name: 80,
  line: 200,
  note: 4000,
  reason: 500,
  pin: 6,
} as const

// SQLite keeps text behind a NUL byte and most tools stop reading at it, so it is never let in.
const noNul = (text: string) => !text.includes('\u0000')

export const lengthUnits = ['mi', 'km'] as const

/** One line of text: trimmed, without control characters. */
export function lineOf(max: number, missing: string) {
  return z
    .string({ error: missing })
    .trim()
    .min(1, missing)
    .max(max, `Keep it to ${max} characters.`)
    .refine(noNul, 'Take the unreadable character out.')
}

/** One line of text that may be left empty; empty becomes null. */
export function lineOrNull(max: number) {
  return z
    .string()
    .trim()
    .max(max, `Keep it to ${max} characters.`)
    .refine(noNul, 'Take the unreadable character out.')
    .transform((text) => (text === '' ? null : text))
    .nullable()
    .default(null)
}

/** Several lines of text; may be empty. */
export function textOf(max: number) {
  return z
    .string()
    .max(max, `Keep it to ${max} characters.`)
    .refine(noNul, 'Take the unreadable character out.')
    .transform((text) => text.replace(/\r\n?/g, '\n').trim())
    .default('')
}

export const idOf = z.uuid('This page is out of date. Load it again.')
export const versionOf = z.coerce.number().int().min(1)
export const reasonOf = lineOf(most.reason, 'Say why, in a few words.')

export const dayOf = z.iso.date('Give a day, like 2026-11-25.')

/** Of a value that may come as a number or as typed: what is wrong with it as typed, which stands last. */
const asTyped = {
  error: (issue: { code?: string; errors?: readonly (readonly { message: string }[])[] }) =>
    issue.code === 'invalid_union' ? issue.errors?.at(-1)?.[0]?.message : undefined,
}

const moneyMessage = 'Give an amount in figures, like 1450 or 1450.50.'

export const moneyOf = (missing: string) =>
  z.union(
    [
      z.number().int(moneyMessage).min(0, moneyMessage).max(mostMinor, moneyMessage),
      z
        .string({ error: missing })
        .trim()
        .min(1, missing)
        .transform((typed, context) => {
          const minor = minorFromTyped(typed)
          if (minor === null) {
            context.addIssue({ code: 'custom', message: moneyMessage })
            return z.NEVER
          }
          return minor
        }),
    ],
    asTyped,
  )

/** Money that may be left empty: null. */
export const moneyOrNull = z
  .union(
    [
      z.null(),
      z.number().int(moneyMessage).min(0, moneyMessage).max(mostMinor, moneyMessage),
      z.string().transform((typed, context) => {
        if (typed.trim() === '') return null
        const minor = minorFromTyped(typed)
        if (minor === null) {
          context.addIssue({ code: 'custom', message: moneyMessage })
          return z.NEVER
        }
        return minor
      }),
    ],
    asTyped,
  )
  .default(null)

const plainNumber = /^-?\d+(?:[.,]\d+)?$/
/** With thousands parted; the decimals then have the other sign, so that none is taken for the other. */
const partedNumber = [/^-?\d{1,3}(?:,\d{3})+(?:\.\d+)?$/, /^-?\d{1,3}(?:\.\d{3})+,\d+$/] as const

/** A number as typed, with a decimal point or comma, and as the screens write it. */
export function numberFromTyped(typed: string): number | null {
  const bare = typed.replace(/[\s\u00a0]/g, '')
  const value = Number(plainOf(bare) ?? Number.NaN)
  return Number.isFinite(value) ? value : null
}

function plainOf(bare: string): string | null {
  const [byComma, byPoint] = partedNumber
  if (byComma.test(bare)) return bare.replaceAll(',', '')
  if (byPoint.test(bare)) return bare.replaceAll('.', '').replace(',', '.')
  return plainNumber.test(bare) ? bare.replace(',', '.') : null
}

export function numberOrNull(given: { min: number; max: number; message: string }) {
  const { min, max, message } = given
  return z
    .union(
      [
        z.null(),
        z.number().min(min, message).max(max, message),
        z.string().transform((typed, context) => {
          if (typed.trim() === '') return null
          const value = numberFromTyped(typed)
          if (value === null || value < min || value > max) {
            context.addIssue({ code: 'custom', message })
            return z.NEVER
          }
          return value
        }),
      ],
      asTyped,
    )
    .default(null)
}

/** How a word is compared when it is searched for: without case, spaces, marks. */
export function searchKey(text: string): string {
  return text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, '')
}

/** A time of the day as typed, 9:00 or 09:00, as minutes from midnight. */
export const minuteOf = z
  .string({ error: 'Give a time, like 09:00.' })
  .trim()
  .transform((typed, context) => {
    const [, hour, minute] = /^(\d{1,2})[:.](\d{2})$/.exec(typed) ?? []
    const minutes = Number(hour) * 60 + Number(minute)
    if (Number(minute) < 60 && minutes <= 24 * 60) return minutes
    context.addIssue({ code: 'custom', message: 'Give a time, like 09:00.' })
    return z.NEVER
  })

export function typedMinute(minutes: number): string {
  const two = (count: number) => String(count).padStart(2, '0')
  return `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`
}

/** Days of the week as ticked, Sunday is 0. */
export const weekdaysOf = z
  .array(z.coerce.number().int().min(0).max(6), { error: 'Tick at least one day.' })
  .min(1, 'Tick at least one day.')
  .transform((ticked) => [...new Set(ticked)].sort((a, b) => a - b))
