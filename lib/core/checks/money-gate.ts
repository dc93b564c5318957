/** The registers that must be asked before money is paid. The tool knows none of them itself. */
export const registers = ['stolen', 'finance', 'write-off', 'recall'] as const
export type Register = (typeof registers)[number]

export const registerAnswers = ['clear', 'recorded', 'no-answer'] as const
/** `recorded`: the register knows something of this bike. */
export type RegisterAnswer = (typeof registerAnswers)[number]

/** The latest that a register said of a bike. */
export type RegisterWord = { register: Register; answer: RegisterAnswer; amountMinor: number | null }

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

export type IdentityWord = { point: IdentityPoint; answer: string }

/** One thing that stands between a bike and being bought. `never`: nothing opens it. */
export type MoneyLack =
  | { of: 'register'; about: Register; says: string; never: boolean }
  | { of: 'point'; about: IdentityPoint; says: string; never: boolean }

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

/**
 * What still keeps a bike from being bought, from every word of the registers and on the points, oldest first: the
 * latest of each counts. Every register asked with an answer; a bike once on record as stolen or with an altered
 * number never, whatever is said later; a write-off or a recall on record is told and does not
 * shut by itself, since it changes the price and not the right; finance on record only where the lender is paid
 * direct and the letter was seen.
 */
export function moneyGate(asked: {
  registers: readonly RegisterWord[]
  identity: readonly IdentityWord[]
}): MoneyLack[] {
  // Sorting keeps the order of the rest, so that what is final stands last and counts.
  const lastFinal = <T>(words: readonly T[], isFinal: (word: T) => boolean) =>
    [...words].sort((a, b) => Number(isFinal(a)) - Number(isFinal(b)))
  const said = new Map(lastFinal(asked.registers, isFinalWord).map((word) => [word.register, word]))
  const points = new Map(lastFinal(asked.identity, isFinalPoint).map(({ point, answer }) => [point, answer]))
  return [
    ...registers.flatMap((register) => lackOfRegister(register, said.get(register))),
    ...identityPoints.flatMap((point) => {
      const recorded = said.get('finance')?.answer === 'recorded'
      return point === 'finance' && !recorded ? [] : lackOfPoint(point, points.get(point), recorded)
    }),
  ]
}

/** On record as stolen: no later answer takes it back. */
export function isFinalWord({ register, answer }: Pick<RegisterWord, 'register' | 'answer'>): boolean {
  return register === 'stolen' && answer === 'recorded'
}

/** An answer that no later word takes back. */
export function isFinalPoint({ point, answer }: IdentityWord): boolean {
  return identityAnswers[point][answer]?.never === true
}

function lackOfRegister(register: Register, word: RegisterWord | undefined): MoneyLack[] {
  const name = registerNames[register]
  const lack = { of: 'register', about: register } as const
  if (!word) return [{ ...lack, says: `Ask the register of ${name} and note its answer.`, never: false }]
  if (word.answer === 'no-answer')
    return [{ ...lack, says: `The register of ${name} gave no answer. Ask again.`, never: false }]
  if (isFinalWord(word))
    return [
      {
        ...lack,
        says: 'On record as stolen. Do not buy it; follow the law on telling the police.',
        never: true,
      },
    ]
  return []
}

function lackOfPoint(point: IdentityPoint, answer: string | undefined, financed: boolean): MoneyLack[] {
  const known = answer === undefined ? undefined : identityAnswers[point][answer]
  const lack = { of: 'point', about: point } as const
  if (!known) return [{ ...lack, says: `Note ${pointNames[point]}.`, never: false }]
  if (point === 'finance' && financed && answer === 'none')
    return [
      {
        ...lack,
        says: 'The register knows of finance: only paying the lender direct, with the letter seen, settles it.',
        never: false,
      },
    ]
  if (known.opens) return []
  const says =
    known.never === true
      ? `${known.label}: this bike can never be bought.`
      : `${known.label}: settle ${pointNames[point]} first.`
  return [{ ...lack, says, never: known.never === true }]
}
