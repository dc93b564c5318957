import { type Day, yearOf } from '../quantity/days'
import { CalcProblem } from '../quantity/problem'
import type { VinInput } from './vin.input'

export interface Vin {
  /** vin17: the number of 17 characters; short: an older or foreign frame number of 5 to 16. */
  form: 'vin17' | 'short'
  /** Upper case, without spaces and hyphens. */
  normalised: string
  /** Position 9; null for a short number. */
  checkDigit: {
    computed: string
    found: string
    match: boolean
    /** Whether the law asks for it: makers of North America, first character 1 to 5. */
    required: boolean
  } | null
  /** What position 10 may stand for, the earliest first, up to the year after `asOf`. */
  modelYears: number[]
  /** Null without a claim or where position 10 is no year code. */
  claimedYearFits: boolean | null
  /** Plain sentences; those that begin with "Note" need nothing done. */
  problems: string[]
}

/**
 * Reads a frame number: check digit and model year of a 17-character one (49 CFR 565.15; ISO 3779 leaves both
 * to the maker outside North America), nothing of a shorter one.
 * @throws CalcProblem for a number that cannot be one: too short, too long, or with characters it never has.
 */
export function vin({ vin: written, claimedYear, asOf }: VinInput): Vin {
  const normalised = normalise(written)
  if (normalised.length < 17) {
    return {
      form: 'short',
      normalised,
      checkDigit: null,
      modelYears: [],
      claimedYearFits: null,
      problems: [],
    }
  }
  refuseLookalikes(normalised)
  const checkDigit = checkDigitOf(normalised)
  const yearCode = yearCodes.indexOf(normalised.charAt(9))
  const modelYears = yearCode < 0 ? [] : yearsOf(yearCode, asOf)
  const claimedYearFits = claimedYear === undefined || yearCode < 0 ? null : modelYears.includes(claimedYear)
  const problems = problemsOf({
    normalised,
    checkDigit,
    modelYears,
    claimedYear,
    claimedYearFits,
    isCode: yearCode >= 0,
  })
  return { form: 'vin17', normalised, checkDigit, modelYears, claimedYearFits, problems }
}

/** Values of the letters; a digit is worth itself; I, O and Q are never used (49 CFR 565.15(c)). */
const letterValues: Record<string, number> = {
  ...{ A: 1, B: 2, C: 3, D: 4, E: 5, F: 6, G: 7, H: 8 },
  ...{ J: 1, K: 2, L: 3, M: 4, N: 5, P: 7, R: 9 },
  ...{ S: 2, T: 3, U: 4, V: 5, W: 6, X: 7, Y: 8, Z: 9 },
}

/** By position; the check digit itself, in position 9, weighs nothing (49 CFR 565.15(c)). */
const weights = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2]

/** Position 10 from 1980 on; after thirty years the cycle starts again (49 CFR 565.15(d)). */
const yearCodes = 'ABCDEFGHJKLMNPRSTVWXY123456789'
const firstModelYear = 1980

function normalise(written: string): string {
  const bare = written.trim().replace(/[\s\-\u2010\u2011]/g, '')
  const odd = /[^A-Za-z0-9]/u.exec(bare)
  if (odd) {
    throw refusal(`A frame number has no ${JSON.stringify(odd[0])}.`, 'Letters A to Z and digits only.')
  }
  if (bare.length < 5 || bare.length > 17) {
    throw refusal(
      `${bare.length} characters are too ${bare.length < 5 ? 'few' : 'many'} for a frame number: it has 5 to 17.`,
      'Read it again from the steering head; a vehicle identification number has 17 characters.',
    )
  }
  return bare.toUpperCase()
}

function refuseLookalikes(number: string): void {
  const found = /[IOQ]/.exec(number)
  if (!found) return
  const letter = found[0]
  const digit = letter === 'I' ? '1' : '0'
  throw refusal(
    `Position ${found.index + 1} is the letter ${letter}, which a 17-character number never has.`,
    `It is likely the digit ${digit}: look again. I, O and Q are not used because they look like 1 and 0.`,
  )
}

function checkDigitOf(number: string): NonNullable<Vin['checkDigit']> {
  const sum = weights.reduce((total, weight, position) => total + weight * worth(number.charAt(position)), 0)
  const computed = sum % 11 === 10 ? 'X' : String(sum % 11)
  const found = number.charAt(8)
  return { computed, found, match: computed === found, required: /^[1-5]/.test(number) }
}

function worth(character: string): number {
  return letterValues[character] ?? Number(character)
}

/** A motorcycle's number does not tell the cycle (position 7 does so only for cars and light trucks): all that fit. */
function yearsOf(code: number, asOf: Day): number[] {
  const years = []
  for (let year = firstModelYear + code; year <= yearOf(asOf) + 1; year += yearCodes.length) years.push(year)
  return years
}

interface Findings {
  normalised: string
  checkDigit: NonNullable<Vin['checkDigit']>
  modelYears: number[]
  claimedYear: number | undefined
  claimedYearFits: boolean | null
  isCode: boolean
}

function problemsOf({
  normalised,
  checkDigit,
  modelYears,
  claimedYear,
  claimedYearFits,
  isCode,
}: Findings): string[] {
  const { computed, found, match, required } = checkDigit
  const code = normalised.charAt(9)
  const fits = modelYears.length > 0 ? modelYears.join(' or ') : 'no year up to now'
  const problems = []
  if (!match && required) {
    problems.push(
      `The check digit in position 9 should be ${computed} and is ${found}: read the number again.`,
    )
  }
  if (!match && !required) {
    problems.push(
      `Note: position 9 is ${found} where a check digit would be ${computed}; its maker need not use one.`,
    )
  }
  if (!isCode && required) problems.push(`Position 10 is ${code}, which stands for no model year.`)
  if (claimedYearFits === false && required) {
    problems.push(`The claimed year ${claimedYear} does not fit: ${code} in position 10 stands for ${fits}.`)
  }
  if (claimedYearFits === false && !required) {
    problems.push(
      `Note: ${code} in position 10 would stand for ${fits}, not ${claimedYear}; its maker need not put a year there.`,
    )
  }
  return problems
}

function refusal(message: string, hint: string): CalcProblem {
  return new CalcProblem(message, { path: ['vin'], hint })
}
