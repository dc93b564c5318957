import { z } from 'zod'
import { type Decision, decisionInput } from '../core/checks/decision.input'
import { moneyOrNull, numberOrNull } from './fields'
import { hoursTyped, moneyTyped, partsTyped } from './typed-figures'

/**
 * A decision as a program or a form sends it. Figures that are numbers already are taken as they are; those
 * typed into a form are read here, and every message stands at the field that was typed.
 */
export const typedDecision = z.unknown().transform((raw, context): Decision => {
  const read = readTyped(raw)
  const parsed = decisionInput.safeParse(read.value)
  if (parsed.success && read.issues.length === 0) return parsed.data
  for (const { path, message } of [...read.issues, ...(parsed.error?.issues ?? [])]) {
    // What is asked of the figures as a whole is said at the first of them.
    context.addIssue({ code: 'custom', path: path.length === 0 ? ['hours', 'likely'] : [...path], message })
  }
  return z.NEVER
})

type Issue = { path: readonly PropertyKey[]; message: string }
type Read = { value: unknown; issues: readonly Issue[] }

/** What may come as typed, how it is told from what is read already, how it is read, and what stands in for it. */
const figures = {
  hours: { isTyped: isThreeTyped, read: hoursTyped, whileUnread: 0 },
  outsideWork: { isTyped: isThreeTyped, read: moneyTyped, whileUnread: 0 },
  parts: { isTyped: (value: unknown) => !Array.isArray(value), read: partsTyped, whileUnread: [] },
  saleOffMinor: { isTyped: isText, read: moneyOrNull.transform((minor) => minor ?? 0), whileUnread: 0 },
  slowerDays: {
    isTyped: isText,
    read: numberOrNull({ min: 0, max: 365, message: 'Give a number of days, like 10.' }).transform(
      (days) => days ?? 0,
    ),
    whileUnread: 0,
  },
  /** Empty: no job is known yet that cures a fault of one's own. */
  job: {
    isTyped: (value: unknown) => value === '',
    read: z.literal('').transform(() => null),
    whileUnread: null,
  },
} satisfies Record<string, { isTyped: (value: unknown) => boolean; read: z.ZodType; whileUnread: unknown }>

/** Where figures stand in a decision: in it or in what somebody described of their own. */
function readTyped(raw: unknown): Read {
  if (!isRecord(raw)) return { value: raw, issues: [] }
  const { own, ...decision } = raw
  const outer = readFigures(decision, [])
  if (!isRecord(own)) return { ...outer, value: own === undefined ? outer.value : { ...outer.value, own } }
  const inner = readFigures(own, ['own'])
  return { value: { ...outer.value, own: inner.value }, issues: [...outer.issues, ...inner.issues] }
}

function readFigures(given: Record<string, unknown>, at: readonly string[]) {
  const issues: Issue[] = []
  const value = { ...given }
  for (const [name, figure] of Object.entries(figures)) {
    if (given[name] === undefined || !figure.isTyped(given[name])) continue
    const read = figure.read.safeParse(given[name])
    value[name] = read.success ? read.data : figure.whileUnread
    for (const { path, message } of read.error?.issues ?? []) {
      issues.push({ path: [...at, name, ...path], message })
    }
  }
  return { value, issues }
}

function isThreeTyped(value: unknown): boolean {
  return isRecord(value) && isText(value.likely)
}

function isText(value: unknown): value is string {
  return typeof value === 'string'
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}
