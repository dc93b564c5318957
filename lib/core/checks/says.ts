import type { TyreDate } from '../codes/tyre-date'
import type { TyreSize } from '../codes/tyre-size'
import type { Unit } from '../quantity/units'
import type { Answer, Condition } from './catalogue'
import type { TyreAges } from './judge'
import type { BoundInForce, LimitInForce } from './limits'
import type { DoneOn } from './reading'

/** What is told of a measured value; figures in the unit of the limit. */
export type MeasuredTold = {
  value: number
  unit: Unit
  /** Label of the position that decided, empty where there is none. */
  at: string
  limit: LimitInForce | null
  belowSaleLine: boolean | null
  conformanceProbability: number | null
  readPositions: number
  allPositions: number
  needs: readonly Condition[]
}

/** The sentence for each way a measured check can end. Page, paper and tests speak from here. */
export const measuredSays = {
  within: (told) => `${valueAt(told)} keeps the limit of ${limitWords(told)}.${saleWords(told)}`,
  outside: (told) => `${valueAt(told)} is ${brokenWord(told)} the limit of ${limitWords(told)}.`,
  'too-close': (told) =>
    `${valueAt(told)} is too close to the limit of ${limitWords(told)} to call with this instrument: ` +
    `the chance that the limit is kept is ${percent(told.conformanceProbability ?? 0)}.${saleWords(told)}`,
  'no-limit': (told) =>
    `${valueAt(told)}. There is no limit to judge it by: enter what is stamped on the part or in the model's data.` +
    saleWords(told),
  'wrong-condition': (told) =>
    `${valueAt(told)} is kept and not judged: it has to be taken ${told.needs.map((c) => conditionWords[c]).join(' and ')}.`,
  'no-engine-speed': (told) =>
    `${valueAt(told)} is kept and not judged: note the engine speed it was read at.`,
  'too-few': (told) =>
    `${told.readPositions} of ${told.allPositions} positions read. ${valueAt(told)} keeps the limit of ${limitWords(told)} so far.` +
    saleWords(told),
} satisfies Record<string, (told: MeasuredTold) => string>

/** An answer speaks for itself: its label is the catalogue's own sentence. */
export function lookSays(answer: Answer): string {
  return `${answer.label}.`
}

export const numberSays = {
  within: (n) => `${counted(n)}.`,
  outside: (n) => `${counted(n)}, ${n.broken} ${plainNumber(n.than)}.`,
  noted: (n) => `${counted(n)}, noted. There is nothing to judge it by.`,
} satisfies Record<
  string,
  (told: { value: number; unitWord: string; broken: 'over' | 'under'; than: number }) => string
>

/** "Keys: 1" reads right for any number. */
function counted({ value, unitWord }: { value: number; unitWord: string }): string {
  return `${unitWord.charAt(0).toUpperCase()}${unitWord.slice(1)}: ${plainNumber(value)}`
}

type TyreTold = { tyre: TyreDate; ageYears: number; ages: TyreAges }

export const tyreSays = {
  within: (told) => `${madeWords(told)}. That keeps the shop's sale line of ${told.ages.saleLine} years.`,
  'below-sale-line': (told) =>
    `${madeWords(told)}. That is over the shop's sale line of ${told.ages.saleLine} years.`,
  outside: (told) => `${madeWords(told)}. That is over the guidance age of ${told.ages.guidance} years.`,
  'decade-unknown': (told) =>
    `${madeWords(told)}. Whether that is over the guidance age depends on the decade, which three digits do not say.`,
} satisfies Record<string, (told: TyreTold) => string>

type DoneOnTold = { done: DoneOn; ageYears: number | null; overYears: number }

export const doneOnSays = {
  within: (told) => `${doneWords(told)}. Due after ${yearsWords(told.overYears)}.`,
  due: (told) => `${doneWords(told)}. That is over ${yearsWords(told.overYears)}.`,
  unknown: ({ overYears }) =>
    `Nobody can say when. Taken as over ${yearsWords(overYears)} until somebody shows proof.`,
} satisfies Record<string, (told: DoneOnTold) => string>

function doneWords({ done, ageYears }: DoneOnTold): string {
  return done.known ? `${done.words}, at most ${yearsWords(ageYears ?? 0)} ago` : 'Unknown'
}

function yearsWords(years: number): string {
  return years === 1 ? '1 year' : `${plainNumber(years)} years`
}

/** The size as it is told beside the marking. */
export function tyreSizeSays({ words }: TyreSize): string {
  return `${words}. Compare it with the model's sheet: a size alone is not judged.`
}

export const conditionWords: Record<Condition, string> = {
  cold: 'cold',
  hot: 'hot',
  upright: 'with the bike upright',
  level: 'on level ground',
  rested: 'after a rest',
  off: 'with everything switched off',
}

const unitWords: Partial<Record<Unit, string>> = { in32: '/32 in', degC: '°C', degF: '°F' }

/** A value with its unit, at most six digits: 4.52 mm, 5/32 in. */
export function withUnit(value: number, unit: Unit): string {
  const word = unitWords[unit] ?? unit
  return word.startsWith('/') ? `${plainNumber(value)}${word}` : `${plainNumber(value)} ${word}`
}

/** At most six digits, no trailing noughts: what conversion adds in the last place is not shown. */
export function plainNumber(value: number): string {
  return String(Number(value.toPrecision(6)))
}

/** A chance that is neither told as certain nor as impossible while it is not. */
export function percent(chance: number): string {
  if (chance > 0 && chance < 0.005) return 'under 1 %'
  if (chance < 1 && chance >= 0.995) return 'over 99 %'
  return `${Math.round(chance * 100)} %`
}

function valueAt({ value, unit, at }: MeasuredTold): string {
  return at === '' ? withUnit(value, unit) : `${at}: ${withUnit(value, unit)}`
}

function limitWords({ limit, value }: MeasuredTold): string {
  if (!limit) return 'none'
  const { min, max, unit } = limit
  const bounds = [
    min && `at least ${withUnit(min.value, unit)}`,
    max && `at most ${withUnit(max.value, unit)}`,
  ].filter((words) => words !== null)
  const source = nearest(value, min, max)?.source.says
  return `${bounds.join(' and ')}${source ? ` (${source})` : ''}`
}

function nearest(value: number, min: BoundInForce | null, max: BoundInForce | null): BoundInForce | null {
  if (!min || !max) return min ?? max
  return value - min.value <= max.value - value ? min : max
}

function brokenWord({ limit, value }: MeasuredTold): string {
  return limit?.min && value < limit.min.value ? 'under' : 'over'
}

function saleWords({ belowSaleLine, limit, value }: MeasuredTold): string {
  if (!belowSaleLine || !limit) return ''
  const under = limit.saleMin && value < limit.saleMin.value
  const bound = under ? limit.saleMin : limit.saleMax
  return bound
    ? ` It is ${under ? 'under' : 'over'} the shop's sale line of ${withUnit(bound.value, limit.unit)}.`
    : ''
}

function madeWords({ tyre, ageYears }: TyreTold): string {
  const years = `${plainNumber(ageYears)} years old`
  if (tyre.certain) return `Made in week ${tyre.week} of ${tyre.year}, ${years}`
  const candidates = tyre.candidates.map(({ year }) => year).join(' or ')
  return `Made before 2000, in week ${tyre.week} of ${candidates}, at least ${years}`
}
