import type { z } from 'zod'
import { CalcProblem } from '../core/quantity/problem'

type Issue = z.core.$ZodIssue
type Path = (string | number)[]

interface Found {
  path: Path
  message: string
  hint: string
  /** A key that is there and should not be speaks for itself; one that is missing may be its right spelling. */
  unknownKey: boolean
}

/** What a schema found wrong with a document, as the one error of the deepest offending key. */
export function problemOf(error: z.ZodError, document: unknown): CalcProblem {
  const [deepest] = error.issues
    .flatMap((issue) => found(issue, { above: [], document }))
    .sort((a, b) => b.path.length - a.path.length || Number(b.unknownKey) - Number(a.unknownKey))
  if (!deepest) throw error
  return new CalcProblem(deepest.message, { path: deepest.path, hint: deepest.hint })
}

interface Where {
  above: Path
  document: unknown
}

function found(issue: Issue, { above, document }: Where): Found[] {
  const path = [...above, ...issue.path.map((key) => (typeof key === 'number' ? key : String(key)))]
  const value = valueAt(document, path)
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => ({
      path: [...path, key],
      message: `The key ${JSON.stringify(key)} is not known here.`,
      hint: 'Correct its spelling or leave it out; --schema lists the keys.',
      unknownKey: true,
    }))
  }
  if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    const branch = likeliest(issue.errors)
    if (branch) return branch.flatMap((inner) => found(inner, { above: path, document }))
    const kinds = issue.errors
      .flat()
      .map((inner) => (inner.code === 'invalid_type' ? kindName(inner.expected) : ''))
    return [
      {
        path,
        unknownKey: false,
        ...wrongKind([...new Set(kinds)].filter(Boolean).join(' or '), { path, value }),
      },
    ]
  }
  if (issue.code === 'invalid_key') {
    return issue.issues.map((inner) => ({
      path,
      unknownKey: false,
      ...words(inner, { path, value: path.at(-1) }),
    }))
  }
  return [{ path, unknownKey: false, ...words(issue, { path, value }) }]
}

/** Of the forms a value may have, the one it was meant in: of the right kind, then wrong deepest, then least. */
function likeliest(branches: Issue[][]): Issue[] | undefined {
  const depth = (branch: Issue[]) => Math.max(...branch.map((issue) => issue.path.length))
  return branches
    .filter((branch) => !branch.some((issue) => issue.path.length === 0 && issue.code === 'invalid_type'))
    .sort((a, b) => depth(b) - depth(a) || a.length - b.length)[0]
}

function valueAt(document: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (value, key) =>
      typeof value === 'object' && value !== null && Object.hasOwn(value, key)
        ? (value as Record<string, unknown>)[key]
        : undefined,
    document,
  )
}

type Words = Pick<Found, 'message' | 'hint'>
interface Spot {
  path: Path
  value: unknown
}

function words(issue: Issue, spot: Spot): Words {
  switch (issue.code) {
    case 'invalid_type':
      return wrongKind(kindName(issue.expected), spot)
    case 'invalid_value':
      return oneOf(issue.values, spot)
    case 'invalid_union':
      return oneOf(('options' in issue && issue.options) || [], spot)
    case 'too_small':
      return wrongSize(issue, { amount: issue.minimum, side: 'least' })
    case 'too_big':
      return wrongSize(issue, { amount: issue.maximum, side: 'most' })
    case 'invalid_format':
      return issue.format === 'date'
        ? {
            message: `There is no day ${short(spot.value)}.`,
            hint: 'Write it as year-month-date: 2026-11-25.',
          }
        : { message: `${short(spot.value)} has not the form it needs here.`, hint: issue.message }
    case 'custom':
      return {
        message: issue.message,
        hint: String(issue.params?.hint ?? 'Correct the value; --schema tells more.'),
      }
    default:
      return { message: issue.message, hint: 'Correct the value; --schema tells what may stand here.' }
  }
}

function wrongKind(needed: string, { path, value }: Spot): Words {
  return value === undefined
    ? { message: missing(path), hint: `Add it: ${needed} is needed.` }
    : { message: `${capital(needed)} is needed here, not ${kindOf(value)}.`, hint: `Give ${needed}.` }
}

function oneOf(options: readonly unknown[], { path, value }: Spot): Words {
  const list = options.map((option) => JSON.stringify(option)).join(', ')
  return value === undefined
    ? { message: missing(path), hint: `Add it: one of ${list}.` }
    : { message: `${capital(short(value))} is not possible here.`, hint: `Give one of ${list}.` }
}

function wrongSize(
  issue: { origin: string; inclusive?: boolean },
  bound: { amount: number | bigint; side: 'least' | 'most' },
): Words {
  const counted: Record<string, [one: string, more: string]> = {
    array: ['entry', 'entries'],
    set: ['entry', 'entries'],
    string: ['character', 'characters'],
  }
  const than = bound.side === 'least' ? 'above' : 'below'
  const words = counted[issue.origin]
  const what = words ? ` ${words[Number(bound.amount) === 1 ? 0 : 1]}` : ''
  const needed = issue.inclusive === false ? `${than} ${bound.amount}` : `at ${bound.side} ${bound.amount}`
  return what
    ? { message: `This needs ${needed}${what}.`, hint: `Give ${needed}${what}.` }
    : { message: `This must be ${needed}.`, hint: `Give a value that is ${needed}.` }
}

function missing(path: Path): string {
  return `The key ${JSON.stringify(path.at(-1))} is missing.`
}

const kinds: Record<string, string> = {
  number: 'a number',
  int: 'a whole number',
  string: 'text',
  boolean: 'true or false',
  object: 'an object',
  record: 'an object',
  array: 'a list',
}

function kindName(expected: string): string {
  return kinds[expected] ?? expected
}

function kindOf(value: unknown): string {
  if (value === null) return 'null'
  if (Array.isArray(value)) return 'a list'
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : 'a number too large to hold'
  return kindName(typeof value)
}

function short(value: unknown): string {
  if (typeof value === 'object') return kindOf(value)
  const text = JSON.stringify(value)
  return text.length > 60 ? `${text.slice(0, 60)}…` : text
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
