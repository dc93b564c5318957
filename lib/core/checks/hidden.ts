import { yearOf } from '../quantity/days'
import { type Ageing, careStates, type Fault } from './catalogue'
import { type CareChance, type CareChances, impossible, timesOdds } from './chance'
import { type Counted, learnedFrom } from './learned'

/** What the shop sets about faults that nobody has looked for. */
export type HiddenTerms = {
  /** Times the odds where the seller refused the look. */
  refusedOdds: number
  /** Times the odds by the band of age, for what ages slowly and what ages fast. */
  ageOdds: Readonly<Record<Ageing, readonly number[]>>
  /** So many bikes weigh as much as the starting chance. */
  priorBikes: number
  /** By fault, what was counted here and accepted. */
  learned: Readonly<Record<string, Counted & { until: string }>>
  /** How often a bike that comes in was kept, average, neglected: a learned chance is the mean over these. */
  care: CareChances
}

/** The terms as they stand among the shop's figures. */
export function hiddenTermsOf(figures: {
  hiddenFaults: Omit<HiddenTerms, 'care'>
  care: CareChances
}): HiddenTerms {
  return { ...figures.hiddenFaults, care: figures.care }
}

/** Bands of the age of a bike, youngest first. */
export const ageBands = ['under 10 years', '10 to 20 years', '20 to 30 years', 'over 30 years'] as const

/** The band of an age in whole years; what is new or of next year's model is in the first. */
export function ageBandOf(years: number): number {
  return Math.min(ageBands.length - 1, Math.max(0, Math.floor(years / 10)))
}

/** Age by the model year on a day, YYYY-MM-DD; null where nobody knows the year. */
export function ageOfBike(year: number | null | undefined, asOf: string): number | null {
  return year === null || year === undefined ? null : yearOf(asOf) - year
}

/** One step of how a hidden chance came about, in the order they are taken. */
export type ChanceReason =
  /** The catalogue's chance by care state. */
  | { from: 'start'; chance: CareChance; nonRunner: boolean }
  /** The shop's own count; `factor` is what it does to the odds of each care state. */
  | { from: 'learned'; found: number; looked: number; until: string; factor: number }
  | { from: 'age'; ages: Ageing; band: number; odds: number }
  /** `title` of the first check that the seller refused. */
  | { from: 'refused'; check: string; title: string; odds: number }
  /** Checks that were answered and miss some of such faults. */
  | { from: 'clean'; titles: readonly string[] }
  /** A reading too close to call takes the place of all before it. */
  | { from: 'doubt'; titles: readonly string[] }
  /** One of its causes was ruled out. */
  | { from: 'cause'; titles: readonly string[] }

/**
 * The chance that a fault hides while nobody has looked for it, with how it came about: the catalogue's chance by
 * care state (for a bike that does not run its own, where there is one), then its odds times what the shop has
 * learned, times the factor of the bike's age, times the factor of a refusal. A refusal counts once, however many
 * looks were refused. Without terms the catalogue's chance stands.
 */
export function hiddenChanceOf(asked: {
  fault: Pick<Fault, 'key' | 'hidden' | 'nonRunner' | 'ages'>
  nonRunner: boolean
  /** Null where nobody knows: age then changes nothing. */
  ageYears: number | null
  /** A check of it that the seller refused and that is still open. */
  refused: { check: string; title: string } | null
  terms: HiddenTerms | null
}): { chance: CareChance; because: ChanceReason[] } {
  const { fault, nonRunner, ageYears, refused, terms } = asked
  const ofNonRunner = nonRunner ? fault.nonRunner : undefined
  const start = ofNonRunner ?? fault.hidden ?? 0
  if (impossible(start)) return { chance: start, because: [] }
  const because: ChanceReason[] = [{ from: 'start', chance: start, nonRunner: ofNonRunner !== undefined }]
  if (!terms) return { chance: start, because }
  let odds = 1
  const { [fault.key]: counted } = terms.learned
  if (counted && fault.hidden) {
    const { care, priorBikes } = terms
    const { factor } = learnedFrom({ chance: fault.hidden, care, priorBikes, counted })
    odds *= factor
    because.push({ from: 'learned', ...counted, factor })
  }
  if (fault.ages && ageYears !== null) {
    const band = ageBandOf(ageYears)
    const ofAge = terms.ageOdds[fault.ages][band] ?? 1
    odds *= ofAge
    if (ofAge !== 1) because.push({ from: 'age', ages: fault.ages, band, odds: ofAge })
  }
  if (refused) {
    odds *= terms.refusedOdds
    because.push({ from: 'refused', ...refused, odds: terms.refusedOdds })
  }
  return { chance: odds === 1 ? start : timesOdds(start, odds), because }
}

/** The reason noted where a look was left out because the seller did not allow it. */
export const sellerRefused = 'The seller did not allow it'

const refusing =
  /\bseller\b.*\b(refus(?:es|ed|ing|al)?|(?:did|does|would|will) not (?:allow|let|want|wait|start)|(?:didn|doesn|wouldn|won)['’]t (?:allow|let|want|wait|start))\b/i

/** Whether the reason for leaving a check out says that the seller refused; own words count too. */
export function saysRefused(because: string | null): boolean {
  return because !== null && refusing.test(because)
}

/** How a chance came about, in one line: "starting chance, average care 15 %; 20 to 30 years × 1.8". */
export function chanceSays(because: readonly ChanceReason[]): string {
  return because.map(reasonSays).join('; ')
}

function reasonSays(reason: ChanceReason): string {
  switch (reason.from) {
    case 'start': {
      const { chance, nonRunner } = reason
      const by = typeof chance === 'number' ? `${perCent(chance)}` : `average care ${perCent(chance.average)}`
      return `starting chance${nonRunner ? ' of a bike that does not run' : ''}, ${by}`
    }
    case 'learned':
      return `${reason.found} of ${reason.looked} bikes here × ${plain(reason.factor)}`
    case 'age':
      return `${ageBands[reason.band]} × ${plain(reason.odds)}`
    case 'refused':
      return `seller refused ${reason.title.toLowerCase()} × ${plain(reason.odds)}`
    case 'clean':
      return `looked at (${listed(reason.titles)}), which misses some`
    case 'doubt':
      return `too close to call (${listed(reason.titles)})`
    case 'cause':
      return `a cause ruled out (${listed(reason.titles)})`
  }
}

const listed = (titles: readonly string[]) => titles.map((title) => title.toLowerCase()).join(', ')
const plain = (value: number) => String(Number(value.toPrecision(2)))
const perCent = (chance: number) => `${Number((chance * 100).toPrecision(2))} %`

/** Whether any state of care has a chance that a count could move. */
export function canBeLearned({ hidden }: Pick<Fault, 'hidden'>): boolean {
  return hidden !== undefined && careStates.some((state) => hidden[state] > 0 && hidden[state] < 1)
}
