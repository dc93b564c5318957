import { type CareState, careStates } from './catalogue'

/** One chance for every bike, or one for each way a bike can have been cared for. */
export type CareChance = number | Record<CareState, number>

/** How often a bike that comes in was kept, average, neglected; sums to 1. */
export type CareChances = Record<CareState, number>

/** As a list with names, in the order of the states. */
export function careStatesWith(care: CareChances): { name: CareState; chance: number }[] {
  return careStates.map((name) => ({ name, chance: care[name] }))
}

export function chanceIn(chance: CareChance, state: CareState): number {
  return typeof chance === 'number' ? chance : chance[state]
}

/** Works on each care state by itself; stays one number where all inputs are. */
export function mapChance(chances: readonly CareChance[], by: (...chances: number[]) => number): CareChance {
  if (chances.every((chance) => typeof chance === 'number')) return by(...chances)
  const inState = (state: CareState) => by(...chances.map((chance) => chanceIn(chance, state)))
  return Object.fromEntries(careStates.map((state) => [state, inState(state)])) as Record<CareState, number>
}

/** The chance with the care states taken together; `care` sums to 1. */
export function meanChance(chance: CareChance, care: CareChances): number {
  if (typeof chance === 'number') return chance
  return careStates.reduce((sum, state) => sum + care[state] * chance[state], 0)
}

/** 1 − Π(1 − chance): at least one of several that do not depend on each other within a care state. */
export function anyOf(chances: readonly CareChance[]): CareChance {
  if (chances.some(isCertain)) return 1
  return mapChance(chances, (...each) => 1 - each.reduce((none, chance) => none * (1 - chance), 1))
}

function isCertain(chance: CareChance): boolean {
  return typeof chance === 'number' ? chance === 1 : careStates.every((state) => chance[state] === 1)
}

export function impossible(chance: CareChance): boolean {
  return typeof chance === 'number' ? chance === 0 : careStates.every((state) => chance[state] === 0)
}

/**
 * What is left of the chance q after a clean answer of a check that finds the fault with chance d where it
 * is there: q(1 − d)/(1 − q·d), by Bayes' theorem. 0 where both are certain.
 */
export function afterCleanAnswer(chance: CareChance, detects: number): CareChance {
  return mapChance([chance], (q = 0) => (q * detects >= 1 ? 0 : (q * (1 - detects)) / (1 - q * detects)))
}

/**
 * The chance with its odds times k: o = q/(1 − q), q′ = o·k/(1 + o·k). k > 0; 0 and 1 stay what they are, and a
 * factor and its inverse undo each other.
 */
export function timesOdds(chance: CareChance, k: number): CareChance {
  return mapChance([chance], (q = 0) => (q >= 1 ? 1 : (q * k) / (1 - q + q * k)))
}
