import { type Day, daysBetween } from '../quantity/days'
import type { FrameLook } from './frame-looks'

/** The registers that must be asked before money is paid. The tool knows none of them itself. */
export const registers = ['stolen', 'finance', 'write-off', 'recall'] as const
export type Register = (typeof registers)[number]

export const registerAnswers = ['clear', 'recorded', 'no-answer'] as const
/** `recorded`: the register knows something of this bike. */
export type RegisterAnswer = (typeof registerAnswers)[number]

/** What a register said of a bike on the day it was asked, and the instant that this was noted. */
export type RegisterWord = {
  register: Register
  answer: RegisterAnswer
  amountMinor: number | null
  day: Day
  at: string
}

/**
 * So many days after it was asked a register's answer still counts; then it is asked again before money is paid.
 * A starting value: common practice, no source.
 */
export const registerAnswerDays = 7

/** What must have been seen of the bike and its seller. */
export const identityPoints = ['seller-identity', 'right-to-sell', 'frame-number', 'keys', 'finance'] as const
export type IdentityPoint = (typeof identityPoints)[number]

/**
 * An answer to one point. `opens`: it lets the bike be bought; `why`: it needs words beside it; `never`: no later
 * word takes it back.
 */
export type IdentityAnswer = { label: string; opens: boolean; why?: true; never?: true }

/** The answers each point may have. Common practice, no published source. */
export const identityAnswers: Record<IdentityPoint, Readonly<Record<string, IdentityAnswer>>> = {
  'seller-identity': {
    seen: { label: 'Seen, name and address taken', opens: true },
    'not-seen': { label: 'Not seen', opens: false },
  },
  'right-to-sell': {
    'keeper-and-payee': { label: 'Seller is the keeper and is paid', opens: true },
    explained: { label: 'Not the keeper or not the payee, proof seen', opens: true, why: true },
    unclear: { label: 'Not clear who may sell', opens: false },
  },
  'frame-number': {
    same: { label: 'The same on frame, plate and paper', opens: true },
    differs: { label: 'Not the same on all three', opens: false },
    altered: { label: 'Altered, ground or stamped over', opens: false, never: true },
  },
  keys: {
    counted: { label: 'Counted and tried', opens: true },
    'none-work': { label: 'No key that works', opens: true, why: true },
  },
  finance: {
    none: { label: 'No finance outstanding', opens: true },
    'lender-paid-direct': { label: 'Lender paid direct, letter seen', opens: true, why: true },
    outstanding: { label: 'Outstanding', opens: false },
  },
}

/** What was seen of a point, and the instant that it was noted. */
export type IdentityWord = { point: IdentityPoint; answer: string; at: string }

/**
 * One thing that stands between a bike and being bought. `against`: what is known speaks against it, where else
 * nothing is known yet. `never`: nothing opens it.
 */
export type MoneyLack = { says: string; against: boolean; never: boolean } & (
  | { of: 'register'; about: Register }
  | { of: 'point'; about: IdentityPoint }
)

export const registerNames: Record<Register, string> = {
  stolen: 'stolen vehicles',
  finance: 'finance outstanding',
  'write-off': 'written-off vehicles',
  recall: 'recalls',
}

export const pointNames: Record<IdentityPoint, string> = {
  'seller-identity': "the seller's identity",
  'right-to-sell': 'whether the seller may sell',
  'frame-number': 'the frame number on frame, plate and paper',
  keys: 'the keys',
  finance: 'how the finance is settled',
}

/** All that is known when money is to be paid. */
export type MoneyWords = {
  /** Every word of the registers, by the day they were asked. */
  registers: readonly RegisterWord[]
  /** Every word on the points, as they were noted, oldest first. */
  identity: readonly IdentityWord[]
  /** What the rounds say of the frame number. */
  frame: FrameLook
  /** The day the money is paid. */
  today: Day
}

/**
 * What still keeps a bike from being bought: the latest word of each register and on each point counts. Every
 * register asked with an answer, and not too long ago; a bike once on record as stolen or with an altered number
 * never, whatever is said later and whoever saw it; a write-off or a recall on record is told and does not shut by
 * itself, since it changes the price and not the right; finance on record only where the lender was paid direct and
 * the letter seen, after the register last said so.
 */
export function moneyGate(words: MoneyWords): MoneyLack[] {
  // Sorting keeps the order of the rest, so that what is final stands last and counts.
  const lastFinal = <T>(all: readonly T[], isFinal: (word: T) => boolean) =>
    [...all].sort((a, b) => Number(isFinal(a)) - Number(isFinal(b)))
  const said = new Map(lastFinal(words.registers, isFinalWord).map((word) => [word.register, word]))
  const points = new Map(lastFinal(words.identity, isFinalPoint).map((word) => [word.point, word]))
  const recorded = said.get('finance')?.answer === 'recorded'
  return [
    ...registers.flatMap((register) => lackOfRegister(register, said.get(register), words.today)),
    ...identityPoints.flatMap((point) => {
      const word = points.get(point)
      if (point === 'frame-number') return lackOfFrame(word, words.frame)
      if (point !== 'finance') return lackOfPoint(point, word)
      return recorded ? lackOfFinance(word, financeNotedAt(words.registers)) : []
    }),
  ]
}

/** Whether a bike may be bought with what it lacks, in words for every page and refusal. */
export type MoneyStanding = 'never' | 'not as it stands' | 'not yet' | 'open'

export const standingWords: Record<MoneyStanding, string> = {
  never: 'This bike may never be bought.',
  'not as it stands': 'It may not be bought as it stands.',
  'not yet': 'It may not be bought yet.',
  open: 'It may be bought.',
}

export function moneyStanding(lacks: readonly MoneyLack[]): MoneyStanding {
  if (lacks.some(({ never }) => never)) return 'never'
  if (lacks.some(({ against }) => against)) return 'not as it stands'
  return lacks.length > 0 ? 'not yet' : 'open'
}

/** On record as stolen: no later answer takes it back. */
export function isFinalWord({ register, answer }: Pick<RegisterWord, 'register' | 'answer'>): boolean {
  return register === 'stolen' && answer === 'recorded'
}

/** An answer that no later word takes back. */
export function isFinalPoint({ point, answer }: Pick<IdentityWord, 'point' | 'answer'>): boolean {
  return identityAnswers[point][answer]?.never === true
}

/** How many days ago a register was asked where that is too long ago; null where its answer counts. */
export function daysTooOld({ day }: Pick<RegisterWord, 'day'>, today: Day): number | null {
  const days = daysBetween(day, today)
  return days > registerAnswerDays ? days : null
}

function lackOfRegister(register: Register, word: RegisterWord | undefined, today: Day): MoneyLack[] {
  const name = registerNames[register]
  const lack = { of: 'register', about: register, against: false, never: false } as const
  if (!word) return [{ ...lack, says: `Ask the register of ${name} and note its answer.` }]
  if (word.answer === 'no-answer')
    return [{ ...lack, says: `The register of ${name} gave no answer. Ask again.` }]
  if (isFinalWord(word)) {
    const says = 'On record as stolen. Do not buy it; follow the law on telling the police.'
    return [{ ...lack, says, against: true, never: true }]
  }
  const days = daysTooOld(word, today)
  if (days === null) return []
  return [{ ...lack, says: `Register of ${name}: asked ${days} days ago. Ask again before paying.` }]
}

function lackOfPoint(point: IdentityPoint, word: IdentityWord | undefined): MoneyLack[] {
  const known = word && identityAnswers[point][word.answer]
  const lack = { of: 'point', about: point } as const
  if (!known) return [{ ...lack, says: `Note ${pointNames[point]}.`, against: false, never: false }]
  if (known.opens) return []
  const never = known.never === true
  const says = never ? 'this bike can never be bought' : `settle ${pointNames[point]} first`
  return [{ ...lack, says: `${known.label}: ${says}.`, against: true, never }]
}

/** The rounds look at the number too: altered is final there as well, and a bad answer since is looked into. */
function lackOfFrame(word: IdentityWord | undefined, { alteredAt, bad }: FrameLook): MoneyLack[] {
  const lack = { of: 'point', about: 'frame-number', against: true, never: false } as const
  const own = lackOfPoint('frame-number', word)
  if (own.some(({ never }) => never)) return own
  if (alteredAt !== null) {
    const says = 'The check sheet says the frame number is altered: this bike can never be bought.'
    return [{ ...lack, says, never: true }]
  }
  if (own.length > 0 || !word || !bad || !isAfter(bad.at, word.at)) return own
  const says = `The check sheet says since: ${bad.label}. Look at the frame number again and note what is seen.`
  return [{ ...lack, says }]
}

/** On record it speaks against the bike whatever is noted, but for the one way that settles it. */
function lackOfFinance(word: IdentityWord | undefined, recordedAt: string | null): MoneyLack[] {
  const lack = { of: 'point', about: 'finance', against: true, never: false } as const
  if (!word || !identityAnswers.finance[word.answer]?.opens || word.answer === 'none') {
    const says = 'Finance is on record: only paying the lender direct, with the letter seen, settles it.'
    return [{ ...lack, says }]
  }
  if (recordedAt === null || !isAfter(recordedAt, word.at)) return []
  const says =
    'The register has finance on record since the payment was noted. Settle what is owed now, and note it again.'
  return [{ ...lack, says }]
}

/** When it was last noted that finance is on record: what was paid before is not what is owed now. */
function financeNotedAt(words: readonly RegisterWord[]): string | null {
  const noted = words.filter(({ register, answer }) => register === 'finance' && answer === 'recorded')
  return noted.reduce<string | null>((last, { at }) => (last && isAfter(last, at) ? last : at), null)
}

function isAfter(instant: string, other: string): boolean {
  return Date.parse(instant) > Date.parse(other)
}
