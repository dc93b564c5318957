import { z } from 'zod'
import { bikeKindValues, type KindCondition } from '../core/checks/bike-kind'
import {
  type Answer,
  type CareState,
  type Check,
  calls,
  careStates,
  type Fault,
  type Instrument,
  type Job,
  lockKinds,
  type MeasuredCheck,
  type Operation,
  type Raise,
  rounds,
  type Source,
  shortPlaces,
  standPlaces,
} from '../core/checks/catalogue'
import { checkInputs, faultInput, jobInput, keyInput, operationInput } from '../core/checks/catalogue.input'
import type { EntryKind } from '../core/checks/catalogue-problems'
import { minorFromTyped } from '../core/quantity/typed-money'
import { type Entry, isOwn, sameValue, startingEntry } from './catalogue'
import { keepSame, raiseFrom, whenFrom } from './catalogue-typed'
import { numberFromTyped } from './fields'
import type { FieldMessages } from './refusal'
import { hoursTyped, moneyTyped, partsTyped } from './typed-figures'

/*
 * The forms of the catalogue: what they send, and the entry that comes of it.
 */

const typed = z.string().trim().max(400).default('')
const lines = z
  .string()
  .max(8000)
  .default('')
  .transform((text) =>
    text
      .split('\n')
      .map((line) => line.trim())
      .filter((line) => line !== ''),
  )
const list = z.array(z.string().max(80)).max(100).default([])
const choice = <const T extends readonly [string, ...string[]]>(values: T, message: string) =>
  z.union([z.literal(''), z.enum(values)], message).default('')

function figure(message: string, read: (text: string) => number | null = numberFromTyped) {
  return typed.transform((text, context) => {
    if (text === '') return null
    const value = read(text)
    if (value !== null) return value
    context.addIssue({ code: 'custom', message })
    return z.NEVER
  })
}

const number = figure('Give a figure, like 3 or 3.5.')
const money = figure('Give an amount in figures, like 45 or 45.50.', minorFromTyped)
const share = figure('Give per cent in figures, like 12.', (text) => {
  const value = numberFromTyped(text)
  // To twelve places, so that what was written in per cent is read as it was.
  return value === null ? null : Number((value / 100).toPrecision(12))
})

const none = {}
const row = z.string().max(8)
const rows = z
  .record(row, typed)
  .default(none)
  .transform((all) => inOrder(all).flatMap(([, value]) => (value === '' ? [] : [value])))

/** The rows of a form by their number, whatever order they came in. */
function inOrder<T>(all: Readonly<Record<string, T>>): [string, T][] {
  return Object.entries(all).sort(([a], [b]) => Number(a) - Number(b))
}

export const checkForm = {
  title: typed,
  round: choice(rounds, 'Choose one of the rounds.'),
  how: lines,
  needs: lines,
  minutes: number,
  short: choice(shortPlaces, 'Choose one of the places.'),
  standAt: choice(standPlaces, 'Choose one of the places.'),
  staleAfterDays: number,
  safety: typed,
  cautions: list,
  appliesTo: list,
  limit: z.strictObject({ min: number, max: number, asNew: number }).optional(),
  saleLine: z.strictObject({ min: number, max: number }).optional(),
  plausible: z.strictObject({ min: number, max: number }).optional(),
  instrument: typed,
  position: typed,
  judgedOn: choice(['lowest', 'highest', 'each', 'mean'], 'Choose which reading counts.'),
  unitWord: typed,
  overYears: number,
  answers: z
    .record(
      row,
      z.strictObject({
        key: typed,
        label: typed,
        tone: choice(['good', 'note', 'bad'], 'Choose one.'),
        effect: typed,
      }),
    )
    .default(none),
  raises: z.record(row, z.strictObject({ when: typed, than: number, effect: typed })).default(none),
}

export const faultForm = {
  title: typed,
  means: typed,
  call: choice(calls, 'Choose what it asks for.'),
  locks: list,
  clearedBy: choice(['job', 'reason'], 'Choose what opens it.'),
  appliesTo: list,
  saleOff: money,
  slowerDays: number,
  hidden: z.strictObject({ kept: share, average: share, neglected: share }).optional(),
  jobs: rows,
  causes: z.record(row, z.strictObject({ job: typed, share })).default(none),
  diagnosis: typed,
  noJobBecause: typed,
  rechecks: rows,
}

export const jobForm = {
  title: typed,
  appliesTo: list,
  hours: hoursTyped,
  outsideWork: moneyTyped,
  parts: partsTyped.default([]),
  operations: rows,
  fasteners: typed,
  cautions: list,
}

export const operationForm = { title: typed, hours: hoursTyped, needs: rows, fasteners: typed }

const forms = {
  check: z.strictObject(checkForm),
  fault: z.strictObject(faultForm),
  job: z.strictObject(jobForm),
  operation: z.strictObject(operationForm),
} as const

export { forms as entryForms }

export type Draft<K extends EntryKind> = z.output<(typeof forms)[K]>

/** What came of a form: the entry, or what to look at by the name of the field. */
export type FormRead = { entry: Entry; messages: FieldMessages; fieldOf: (path: string) => string }

/** Where an entry stands before it is read from its form: as it is, or new with its key. */
export type Before = { kind: EntryKind; key: string; now: Entry | null; sort?: Check['sort'] }

export const shopSource: Source = { kind: 'shop', says: 'set by this shop' }
/** A general figure gives way to what is entered for a model or stamped on a part, whoever set it. */
const generalSource: Source = {
  kind: 'common practice',
  says: 'common practice, no published source: the general figure of this shop',
}

/** The entry that a form makes of what was there. Fields that its form does not offer stay as they were. */
export function entryFromForm(
  before: Before,
  draft: Draft<EntryKind>,
  instruments: readonly Instrument[],
): FormRead {
  const read = build(before, draft, instruments)
  const entry = compact(
    before.now ? keepSame(before.kind, { before: before.now, after: read.entry }) : read.entry,
  )
  const messages: FieldMessages = { ...read.messages }
  const parsed = schemaOf(before.kind, entry).safeParse(entry)
  for (const { path, message } of parsed.error?.issues ?? [])
    messages[read.fieldOf(path.join('.'))] ??= message
  for (const [field, says] of Object.entries(weaker(before, entry))) messages[read.fieldOf(field)] ??= says
  return { entry, messages, fieldOf: read.fieldOf }
}

function build(before: Before, draft: Draft<EntryKind>, instruments: readonly Instrument[]): FormRead {
  switch (before.kind) {
    case 'check':
      return buildCheck(before, draft as Draft<'check'>, instruments)
    case 'fault':
      return buildFault(before, draft as Draft<'fault'>)
    case 'job':
      return buildJob(before, draft as Draft<'job'>)
    case 'operation':
      return buildOperation(before, draft as Draft<'operation'>)
  }
}

function schemaOf(kind: EntryKind, entry: Entry): z.ZodType {
  if (kind === 'check') return checkInputs[(entry as Check).sort]
  return { fault: faultInput, job: jobInput, operation: operationInput }[kind]
}

function buildCheck(
  { key, now, sort }: Before,
  draft: Draft<'check'>,
  instruments: readonly Instrument[],
): FormRead {
  const was = now as Check | null
  const messages: FieldMessages = {}
  const { answers, raisedByNew, answerPlaces } = answersFrom(was, draft)
  const raiseRows = inOrder(draft.raises).filter(
    ([, { when, than, effect }]) => when || than !== null || effect,
  )
  const raises = raiseRows.flatMap(([place, line]) => {
    const when = whenFrom(line.when, line.than)
    if (!when) {
      const needsFigure = line.when === 'over' || line.when === 'under'
      messages[`raises.${place}.${needsFigure ? 'than' : 'when'}`] = needsFigure
        ? 'Give the figure.'
        : 'Say when it happens.'
    }
    const raise = when && raiseFrom(when, line.effect)
    if (when && !raise) messages[`raises.${place}.effect`] = 'Choose the fault, or empty the whole line.'
    return raise ? [raise] : []
  })
  const shared = {
    key,
    title: draft.title,
    how: draft.how,
    needs: draft.needs,
    minutes: draft.minutes ?? undefined,
    short: draft.short || undefined,
    standAt: draft.standAt || undefined,
    staleAfterDays: draft.staleAfterDays ?? undefined,
    raises: [...raises, ...raisedByNew.map(({ raise }) => raise)],
    ...(isOwn(key) && {
      round: draft.round || undefined,
      safety: draft.safety === 'yes' || undefined,
      cautions: draft.cautions.length > 0 ? draft.cautions : undefined,
      appliesTo: conditionFrom(draft.appliesTo),
      source: shopSource,
    }),
  }
  const places = [
    ...raiseRows.map(([place]) => `raises.${place}.effect`),
    ...raisedByNew.map(({ place }) => place),
  ]
  const fieldOf = (path: string) => {
    const [head = '', index = '', ...rest] = path.split('.')
    if (head === 'how' || head === 'needs') return head
    if (head === 'raises') return places[Number(index)] ?? 'raises.0.effect'
    if (head === 'answers') {
      const place = answerPlaces[Number(index)] ?? '0'
      return `answers.${place}.${rest[0] === 'tone' ? 'tone' : 'label'}`
    }
    return path
  }
  const entry = {
    ...was,
    ...shared,
    ...bySort(was, { sort: was?.sort ?? sort, draft, answers, instruments }),
  }
  if (!was && sort === 'measured' && !instruments.some((one) => one.key === draft.instrument))
    return {
      entry: { ...entry, sort: 'measured' } as unknown as Check,
      messages: { ...messages, instrument: 'Choose what it is measured with.' },
      fieldOf,
    }
  return { entry: entry as Check, messages, fieldOf }
}

type OfSort = {
  sort: Check['sort'] | undefined
  draft: Draft<'check'>
  answers: readonly Answer[]
  instruments: readonly Instrument[]
}

/** The fields that only checks of one sort have. */
function bySort(was: Check | null, { sort, draft, answers, instruments }: OfSort): Record<string, unknown> {
  const plausible = { min: draft.plausible?.min ?? undefined, max: draft.plausible?.max ?? undefined }
  switch (sort) {
    case 'look':
      return { sort, answers }
    case 'number':
      return { sort, unitWord: draft.unitWord, plausible }
    case 'code':
      return was && !('overYears' in was)
        ? { sort }
        : { sort, code: 'done-on', overYears: draft.overYears ?? undefined }
    default: {
      const measured = was as MeasuredCheck | null
      const tool = instruments.find((one) => one.key === draft.instrument)
      const unit = measured?.unit ?? tool?.unit
      const made = measured
        ? {}
        : {
            unit,
            units: [unit],
            positions: [{ key: 'one', label: draft.position || 'The one place' }],
            judgedOn: draft.judgedOn || undefined,
            instruments: tool ? [tool] : [],
          }
      return {
        ...made,
        sort: 'measured',
        plausible,
        limit: limitFrom(measured, draft.limit, unit),
        saleLine: saleLineFrom(measured, draft.saleLine, unit),
      }
    }
  }
}

/** Answers keep their keys for ever, since readings name them; new ones get theirs from their words. */
function answersFrom(was: Check | null, draft: Draft<'check'>) {
  const known = was?.sort === 'look' ? was.answers : []
  const own = was === null || isOwn(was.key)
  const answers: Answer[] = []
  const answerPlaces: string[] = []
  const raisedByNew: { raise: Raise; place: string }[] = []
  for (const [place, { key, label, tone, effect }] of inOrder(draft.answers)) {
    const before = known.find((one) => one.key === key)
    if (before) {
      answers.push({ ...before, label, ...(own && tone && { tone }) })
      answerPlaces.push(place)
      continue
    }
    if (!own || label === '') continue
    const made = answerKey(label, place)
    answers.push({ key: made, label, tone: (tone || undefined) as Answer['tone'] })
    answerPlaces.push(place)
    const raise = effect === '' ? null : raiseFrom({ on: 'answer', answer: made }, effect)
    if (raise) raisedByNew.push({ raise, place: `answers.${place}.effect` })
  }
  // An answer whose line did not come along is still there.
  for (const answer of known) if (!answers.some(({ key }) => key === answer.key)) answers.push(answer)
  return { answers, answerPlaces, raisedByNew }
}

function answerKey(label: string, place: string): string {
  const key = slug(label)
  return keyInput.safeParse(key).success ? key : `answer-${key || place}`
}

type LimitDraft = { min: number | null; max: number | null; asNew?: number | null }

function limitFrom(
  was: MeasuredCheck | null,
  draft: LimitDraft | undefined,
  unit: MeasuredCheck['unit'] | undefined,
): unknown {
  if (!draft) return was?.limit ?? null
  const first = was && (startingEntry('check', was.key) as MeasuredCheck | null)
  const figures = {
    min: draft.min ?? undefined,
    max: draft.max ?? undefined,
    asNew: draft.asNew ?? undefined,
  }
  if (Object.values(figures).every((one) => one === undefined)) return null
  const kept = [was?.limit, first?.limit].find((limit) => limit && sameFigures(limit, figures))
  if (kept) return kept
  const source = first?.limit && isBinding(first.limit.source) ? shopSource : generalSource
  return { ...figures, unit: was?.limit?.unit ?? unit, source }
}

function saleLineFrom(
  was: MeasuredCheck | null,
  draft: LimitDraft | undefined,
  unit: MeasuredCheck['unit'] | undefined,
): unknown {
  if (!draft) return was?.saleLine
  const first = was && (startingEntry('check', was.key) as MeasuredCheck | null)
  const figures = { min: draft.min ?? undefined, max: draft.max ?? undefined }
  if (figures.min === undefined && figures.max === undefined) return undefined
  const kept = [was?.saleLine, first?.saleLine].find((line) => line && sameFigures(line, figures))
  return kept ?? { ...figures, unit: was?.saleLine?.unit ?? unit, source: shopSource }
}

function sameFigures(a: LimitLike, b: LimitLike): boolean {
  return a.min === b.min && a.max === b.max && a.asNew === b.asNew
}
type LimitLike = { min?: number; max?: number; asNew?: number }

function isBinding({ kind }: Source): boolean {
  return kind === 'law' || kind === 'stamped' || kind === 'maker'
}

function buildFault({ key, now }: Before, draft: Draft<'fault'>): FormRead {
  const was = now as Fault | null
  const messages: FieldMessages = {}
  const stops = draft.call === 'stop'
  const causeRows = inOrder(draft.causes).filter(([, { job, share: of }]) => job !== '' || of !== null)
  for (const [place, { job, share: of }] of causeRows) {
    if (job === '') messages[`causes.${place}.job`] = 'Choose the job, or empty the share.'
    if (of === null) messages[`causes.${place}.share`] = 'Give the share in per cent.'
  }
  const { kept = null, average = null, neglected = null } = draft.hidden ?? {}
  const hidden = [kept, average, neglected]
  const some = hidden.some((one) => one !== null)
  for (const [index, state] of careStates.entries())
    if (some && hidden[index] === null) messages[`hidden.${state}`] = 'Give all three chances, or none.'
  const entry = {
    ...was,
    key,
    title: draft.title,
    means: draft.means,
    call: draft.call || undefined,
    locks: stops ? keptOr(was?.call === 'stop' ? was.locks : undefined, draft.locks) : undefined,
    clearedBy: stops ? draft.clearedBy || undefined : undefined,
    jobs: draft.jobs,
    causes:
      causeRows.length > 0 ? causeRows.map(([, { job, share: of }]) => ({ job, share: of ?? 0 })) : undefined,
    diagnosis: draft.diagnosis || undefined,
    noJobBecause: draft.noJobBecause || undefined,
    rechecks: draft.rechecks,
    hidden: some ? ({ kept, average, neglected } as Record<CareState, number>) : undefined,
    saleOffMinor: draft.saleOff ?? undefined,
    slowerDays: draft.slowerDays ?? undefined,
    ...(isOwn(key) && { appliesTo: conditionFrom(draft.appliesTo), source: shopSource }),
  }
  const firstField: Record<string, string> = { jobs: 'jobs.0', rechecks: 'rechecks.0', hidden: 'hidden.kept' }
  const fieldOf = (path: string) => {
    const [head = '', index = ''] = path.split('.')
    if (head === 'causes') return `causes.${causeRows[Number(index)]?.[0] ?? '0'}.share`
    if (head === 'saleOffMinor') return 'saleOff'
    return (index === '' || head !== 'hidden' ? firstField[head] : undefined) ?? path
  }
  return { entry: entry as Fault, messages, fieldOf }
}

/** A list of ticks in the order it had; what was ticked anew stands behind. */
function keptOr(was: readonly string[] | undefined, sent: readonly string[]): Fault['locks'] {
  const order = [...(was ?? []), ...lockKinds]
  return [...new Set(order.filter((one) => sent.includes(one)))] as unknown as Fault['locks']
}

function buildJob({ key, now }: Before, draft: Draft<'job'>): FormRead {
  const was = now as Job | null
  const entry = {
    ...was,
    key,
    title: draft.title,
    operations: draft.operations,
    hours: draft.hours,
    parts: draft.parts,
    outsideWork: draft.outsideWork,
    fasteners: draft.fasteners === 'yes',
    // Whoever saves a job's figures has looked at them, also where none of them changed.
    source: shopSource,
    ...(isOwn(key) && {
      appliesTo: conditionFrom(draft.appliesTo),
      cautions: draft.cautions.length > 0 ? draft.cautions : undefined,
    }),
  }
  const fieldOf = (path: string) => (path.startsWith('operations') ? 'operations.0' : path)
  return { entry: entry as Job, messages: {}, fieldOf }
}

function buildOperation({ key, now }: Before, draft: Draft<'operation'>): FormRead {
  const entry = {
    ...(now as Operation | null),
    key,
    title: draft.title,
    hours: draft.hours,
    needs: draft.needs.length > 0 ? draft.needs : undefined,
    fasteners: draft.fasteners === 'yes',
  }
  const fieldOf = (path: string) => (path.startsWith('needs') ? 'needs.0' : path)
  return { entry: entry as Operation, messages: {}, fieldOf }
}

/** "finalDrive:chain" and the like, part by part; undefined where nothing is ticked: then it holds for every bike. */
function conditionFrom(ticked: readonly string[]): KindCondition | undefined {
  const parts = Object.entries(bikeKindValues).flatMap(([part, values]) => {
    const mine = values.filter((value) => ticked.includes(`${part}:${value}`))
    return mine.length > 0 ? [[part, mine] as const] : []
  })
  return parts.length > 0 ? (Object.fromEntries(parts) as KindCondition) : undefined
}

/**
 * Where an edit would make a starting entry less careful than it began. Of what only its job may open, nothing
 * can be taken away: not the call, not what it shuts, not the checks that prove the cure, not what raises it.
 */
function weaker({ kind, key }: Before, entry: Entry): FieldMessages {
  const first = startingEntry(kind, key)
  if (!first) return {}
  if (kind === 'fault') return weakerFault(first as Fault, entry as Fault)
  if (kind === 'check') return weakerCheck(first as Check, entry as Check)
  return {}
}

function weakerFault(first: Fault, { call, locks = [], clearedBy, rechecks }: Fault): FieldMessages {
  if (!isGuarded(first)) return {}
  const found: FieldMessages = {}
  if (call !== 'stop') found.call = 'Somebody could be hurt: this stays a stop, and only its job opens it.'
  else if (clearedBy !== 'job') found.clearedBy = 'Somebody could be hurt: only the job opens this.'
  if (call === 'stop' && first.locks?.some((lock) => !locks.includes(lock)))
    found.locks = 'Somebody could be hurt: what this shuts stays shut. More may be added.'
  if (first.rechecks.some((check) => !rechecks.includes(check)))
    found.rechecks = 'The checks that proved the cure at first stay. More may be added.'
  return found
}

function weakerCheck(first: Check, entry: Check): FieldMessages {
  const found: FieldMessages = {}
  for (const raise of first.raises) {
    if (!('fault' in raise)) continue
    const fault = startingEntry('fault', raise.fault) as Fault | null
    if (!fault || !isGuarded(fault)) continue
    if (
      entry.raises.some(
        (one) => 'fault' in one && one.fault === raise.fault && sameValue(one.when, raise.when),
      )
    )
      continue
    found['raises.0'] = `Somebody could be hurt: what raises "${fault.title}" must go on raising it.`
  }
  if (
    first.sort === 'measured' &&
    entry.sort === 'measured' &&
    first.limit &&
    isBinding(first.limit.source)
  ) {
    const { min, max, source } = first.limit
    const says = `This figure binds (${source.kind}): only a narrower one may take its place.`
    if (min !== undefined && (entry.limit?.min === undefined || entry.limit.min < min))
      found['limit.min'] = says
    if (max !== undefined && (entry.limit?.max === undefined || entry.limit.max > max))
      found['limit.max'] = says
  }
  return found
}

/** A stop that nobody's reason opens. */
export function isGuarded({ call, clearedBy }: Fault): boolean {
  return call === 'stop' && clearedBy === 'job'
}

/** Small letters and hyphens out of a title, for a key. */
export function slug(title: string): string {
  return title
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^[-0-9]+|-+$/g, '')
    .slice(0, 60)
    .replace(/-+$/, '')
}

function compact<E extends object>(entry: E): E {
  return Object.fromEntries(Object.entries(entry).filter(([, value]) => value !== undefined)) as E
}
