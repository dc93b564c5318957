import type { FaultState } from '../checks/faults'
import type { Judgement } from '../checks/judge'
import type { JobLine } from '../work/propose-jobs'

type Held = {
  /** Faults that are there. */
  faults: readonly FaultState[]
  judgements: readonly Judgement[]
  safetyOpen: readonly string[]
  checksOpen: number
  jobs: readonly JobLine[]
  hoursMean: number
  hasSale: boolean
  hasPrice: boolean
}

/** What stands between a bike and its sale, gravest first: the first that holds is said. */
const holdUps: readonly ((held: Held) => string | null)[] = [
  ({ faults }) => {
    const stops = faults.filter(({ call }) => call === 'stop')
    return stops.length === 0 ? null : `Unsafe: ${stops[0]!.title}${andMore(stops.length - 1)}.`
  },
  ({ hasSale }) => (hasSale ? null : 'No sale price yet.'),
  ({ hasPrice }) => (hasPrice ? null : 'No price asked, offered or paid yet.'),
  ({ safetyOpen, judgements }) => {
    if (safetyOpen.length === 0) return null
    const first = judgements.find(({ check }) => check === safetyOpen[0])?.title ?? safetyOpen[0]
    return `Not checked for safety: ${first}${andMore(safetyOpen.length - 1)}.`
  },
  ({ faults, jobs, hoursMean }) => {
    const musts = faults.filter(({ call }) => call === 'must')
    if (musts.length === 0) return null
    const work = jobs.some(({ state }) => state === 'in')
      ? `, ${oneDecimal(hoursMean)} bench hours in all`
      : ''
    return `To be put right: ${musts[0]!.title}${andMore(musts.length - 1)}${work}.`
  },
  ({ checksOpen }) =>
    checksOpen === 0 ? null : `${checksOpen} ${checksOpen === 1 ? 'check is' : 'checks are'} open.`,
]

export function whatHoldsItUp(held: Held): string {
  for (const holdUp of holdUps) {
    const says = holdUp(held)
    if (says !== null) return says
  }
  return 'Nothing holds it up.'
}

function andMore(others: number): string {
  return others === 0 ? '' : ` and ${others} more`
}

function oneDecimal(hours: number): string {
  return String(Math.round(hours * 10) / 10)
}
