import type { Check, Fault, Job, Operation, Raise, When } from '../core/checks/catalogue'
import type { EntryKind } from '../core/checks/catalogue-problems'
import type { Uncertain } from '../core/quantity/three-point'
import { typedMoney } from '../core/quantity/typed-money'
import type { Entry } from './catalogue'

/** An entry as the fields of its form hold it: text by the name of the field. */
export type Typed = Readonly<Record<string, string>>

/**
 * An entry as typed. Of an entry that is given in part only the fields that are there come out, so that what
 * changed can be told field by field; a field that is null comes out empty.
 */
export function typedEntry(kind: EntryKind, entry: object): Typed {
  const all = entry as Partial<Record<string, never>>
  const fields = Object.entries(writers[kind]).filter(([field]) => field in all)
  return Object.assign({}, ...fields.map(([field, write]) => write((all[field] ?? null) as never, field)))
}

/** The same for a whole entry: what it has not stands there empty. */
export function typedWhole(kind: EntryKind, entry: object): Typed {
  const none = Object.fromEntries(Object.keys(writers[kind]).map((field) => [field, null]))
  return typedEntry(kind, { ...none, ...entry })
}

/** A share of one as typed in per cent, without the last places that binary fractions add. */
export function typedShare(share: number | null | undefined): string {
  return share === null || share === undefined ? '' : String(Number((share * 100).toPrecision(12)))
}

type Writer = (value: never, field: string) => Typed
type Writers<E> = { [F in keyof E]?: (value: NonNullable<E[F]> | null, field: string) => Typed }

const asText = (value: string | number | null, field: string): Typed => ({
  [field]: value === null ? '' : String(value),
})
const asTick = (value: boolean | null, field: string): Typed => ({ [field]: value ? 'yes' : '' })
const asLines = (value: readonly string[] | null, field: string): Typed => ({
  [field]: (value ?? []).join('\n'),
})
const asList = (value: readonly string[] | null, field: string): Typed => ({
  [`${field}[]`]: (value ?? []).join('\n'),
})
const asRows = (value: readonly string[] | null, field: string): Typed =>
  Object.fromEntries((value ?? []).map((one, index) => [`${field}.${index}`, one]))
const asKinds = (value: object | null, field: string): Typed =>
  asList(
    Object.entries(value ?? {}).flatMap(([part, values]) =>
      ((values ?? []) as readonly string[]).map((one) => `${part}:${one}`),
    ),
    field,
  )
const asBounds =
  (...sides: readonly ('min' | 'max' | 'asNew')[]) =>
  (value: { min?: number; max?: number; asNew?: number } | null, field: string): Typed =>
    Object.fromEntries(
      sides.map((side) => [`${field}.${side}`, value?.[side] === undefined ? '' : String(value[side])]),
    )
const asThree =
  (write: (value: number) => string) =>
  (value: Uncertain | null, field: string): Typed => {
    const three =
      typeof value === 'object'
        ? (value ?? { low: 0, likely: 0, high: 0 })
        : { low: value, likely: value, high: value }
    return Object.fromEntries(Object.entries(three).map(([point, one]) => [`${field}.${point}`, write(one)]))
  }
const asHours = asThree(String)
const asMoney = asThree(typedMoney)

const checkWriters: Writers<Check & Extract<Check, { sort: 'measured' }>> &
  Writers<Pick<Extract<Check, { sort: 'look' }>, 'answers'>> &
  Writers<Pick<Extract<Check, { sort: 'number' }>, 'unitWord'>> &
  Writers<{ overYears: number }> = {
  title: asText,
  round: asText,
  how: asLines,
  needs: asLines,
  minutes: asText,
  short: asText,
  standAt: asText,
  staleAfterDays: asText,
  safety: asTick,
  cautions: asList,
  appliesTo: asKinds,
  limit: asBounds('min', 'max', 'asNew'),
  saleLine: asBounds('min', 'max'),
  plausible: asBounds('min', 'max'),
  unitWord: asText,
  overYears: asText,
  answers: (value, field) =>
    Object.assign(
      {},
      ...(value ?? []).map(({ key, label, tone }, index) => ({
        [`${field}.${index}.key`]: key,
        [`${field}.${index}.label`]: label,
        [`${field}.${index}.tone`]: tone,
      })),
    ),
  raises: (value, field) =>
    Object.assign({}, ...(value ?? []).map((raise, index) => typedRaise(raise, `${field}.${index}`))),
}

const faultWriters: Writers<Fault> = {
  title: asText,
  means: asText,
  call: asText,
  appliesTo: asKinds,
  locks: asList,
  clearedBy: asText,
  jobs: asRows,
  causes: (value, field) =>
    Object.assign(
      {},
      ...(value ?? []).map(({ job, share }, index) => ({
        [`${field}.${index}.job`]: job,
        [`${field}.${index}.share`]: typedShare(share),
      })),
    ),
  diagnosis: asText,
  noJobBecause: asText,
  rechecks: asRows,
  hidden: (value, field) =>
    Object.fromEntries(
      (['kept', 'average', 'neglected'] as const).map((state) => [
        `${field}.${state}`,
        typedShare(value?.[state]),
      ]),
    ),
  saleOffMinor: (value) => ({ saleOff: typedMoney(value) }),
  slowerDays: asText,
}

const jobWriters: Writers<Job> = {
  title: asText,
  appliesTo: asKinds,
  hours: asHours,
  outsideWork: asMoney,
  parts: (value, field) =>
    Object.assign(
      {},
      ...(value ?? []).map(({ name, qty, unitCost }, index) => ({
        [`${field}.${index}.name`]: name,
        [`${field}.${index}.qty`]: String(qty),
        ...asMoney(unitCost, `${field}.${index}.unitCost`),
      })),
    ),
  operations: asRows,
  // Left out means that stuck fasteners do slow it.
  fasteners: (value, field) => asTick(value ?? true, field),
  cautions: asList,
}

const operationWriters: Writers<Operation> = {
  title: asText,
  hours: asHours,
  needs: asRows,
  fasteners: (value, field) => asTick(value ?? true, field),
}

const writers = {
  check: checkWriters,
  fault: faultWriters,
  job: jobWriters,
  operation: operationWriters,
} as unknown as Record<EntryKind, Record<string, Writer>>

/** The fields that every entry of its sort has, for a form that starts empty. */
export function fieldsOf(kind: EntryKind): readonly string[] {
  return Object.keys(writers[kind])
}

function typedRaise(raise: Raise, name: string): Typed {
  const { on, than } = typedWhen(raise.when)
  return { [`${name}.when`]: on, [`${name}.than`]: than, [`${name}.effect`]: typedEffect(raise) }
}

function typedWhen(when: When): { on: string; than: string } {
  if (when.on === 'answer') return { on: `answer:${when.answer}`, than: '' }
  if (when.on === 'older-than') return { on: `older-than:${when.years}`, than: '' }
  return { on: when.on, than: 'than' in when ? String(when.than) : '' }
}

function typedEffect(raise: Raise): string {
  if ('fault' in raise) return `fault:${raise.fault}`
  return 'settles' in raise
    ? `settles:${raise.settles.fault}/${raise.settles.cause}`
    : `rules-out:${raise.rulesOut.fault}/${raise.rulesOut.cause}`
}

/** What happens in a check, out of the two fields that say so; null where it cannot be made out. */
export function whenFrom(on: string, than: number | null): When | null {
  const [what = '', which = ''] = on.split(':')
  switch (what) {
    case 'answer':
      return which === '' ? null : { on: 'answer', answer: which }
    case 'older-than':
      return which === 'guidance' || which === 'sale-line' ? { on: 'older-than', years: which } : null
    case 'over':
    case 'under':
      return than === null ? null : { on: what, than }
    case 'outside':
    case 'above-limit':
    case 'below-limit':
    case 'below-sale-line':
      return { on: what }
    default:
      return null
  }
}

/** What it does to the faults, out of its field; null where it cannot be made out. */
export function raiseFrom(when: When, effect: string): Raise | null {
  const at = effect.indexOf(':')
  const [fault = '', cause = ''] = effect.slice(at + 1).split('/')
  switch (effect.slice(0, at)) {
    case 'fault':
      return { when, fault }
    case 'settles':
      return { when, settles: { fault, cause } }
    case 'rules-out':
      return { when, rulesOut: { fault, cause } }
    default:
      return null
  }
}

/** Fields by name as the nested object that a form's schema reads: `limit.min` stands in `limit`, `locks[]` is a list. */
export function nested(typed: Typed): Record<string, unknown> {
  const input: Record<string, unknown> = {}
  for (const [name, text] of Object.entries(typed)) {
    if (name.endsWith('[]')) {
      input[name.slice(0, -2)] = text === '' ? [] : text.split('\n')
      continue
    }
    const path = name.split('.')
    const last = path.pop() ?? name
    let at = input
    for (const step of path) {
      at[step] ??= {}
      at = at[step] as Record<string, unknown>
    }
    at[last] = text
  }
  return input
}

/** The entry that was, wherever what was typed says the same: so that what was only looked at does not change. */
export function keepSame<E extends Entry>(kind: EntryKind, { before, after }: { before: E; after: E }): E {
  const was = before as unknown as Record<string, unknown>
  const is = after as unknown as Record<string, unknown>
  const kept = Object.keys(writers[kind]).flatMap((field) => {
    const same =
      JSON.stringify(typedEntry(kind, { [field]: was[field] ?? null })) ===
      JSON.stringify(typedEntry(kind, { [field]: is[field] ?? null }))
    return same ? [[field, was[field]] as const] : []
  })
  return { ...after, ...Object.fromEntries(kept) }
}
