import type { Catalogue } from '../checks/catalogue'
import { type CareChances, meanChance } from '../checks/chance'
import { dayPrice } from '../deal/day-price'
import type { BenchBike } from '../plan/bench-input'
import type { HoursSpread } from '../plan/bench-plan'
import { type JobToPlan, type Skill, type StepToPlan, tasksOfBike } from '../plan/bike-tasks'
import { meanOf } from '../quantity/three-point'
import { estimate } from '../work/estimate'
import type { JobLine } from '../work/propose-jobs'
import { type BikeToWorkOut, proposedWork } from './bike-result'
import type { Figures } from './figures.input'
import type { Plan } from './terms'

/** What is known of bench work beside its hours; jobs and steps by their keys. */
export type BenchWork = {
  kindOf: Readonly<Record<string, Skill>>
  /** What must harden, charge or dry after a job, hours by the clock. */
  waits: Readonly<Record<string, { title: string; hours: number }>>
  /** The part of a step's hours that comes when it is put back, and the steps where it is another. */
  putBackShare: number
  putBackShares: Readonly<Record<string, number>>
  /** Steps in which the bike cannot be rolled off its lift. */
  keepsOnLift: readonly string[]
  /** Kinds of work that want no lift where they open nothing. */
  besideTheLift: readonly Skill[]
}

/** A bike of the shop that is still to be put right. */
export type BikeForBench = {
  id: string
  viewingNo: number
  facts: BikeToWorkOut
  /** Hours worked on what is under way, by job. */
  spentHours: Readonly<Record<string, number>>
  running: BenchBike['running']
  partsIn: BenchBike['partsIn']
  /** Days until work that was given away is back, by job, where somebody has it. */
  backIn: Readonly<Record<string, number>>
  due: number | null
}

/** Levels at which the hours of a bike are read, for the spread of its date. */
const levels = Array.from({ length: 21 }, (_, at) => Math.min(0.995, Math.max(0.005, at / 20)))

/**
 * What the plan needs of one bike: its certain jobs as tasks, the mean of what is not certain as one task more, and the
 * spread of its hours. Hours are means with stuck fasteners; the day's price is that of the deal, with what was paid.
 */
export function benchBikeOf(
  bike: BikeForBench,
  { benchWork, outsideDays }: { benchWork: BenchWork; outsideDays: number },
): { bike: BenchBike; spread: HoursSpread } {
  const { id, viewingNo, facts, spentHours, running, partsIn, backIn, due } = bike
  const { catalogue, figures } = facts
  const { proposal, plan, care } = proposedWork(facts)
  const stuck = meanFactor(figures)
  const underWay = new Set(facts.work.underWay.map(({ job }) => job))
  const inIt = proposal.jobs.filter(({ state }) => state === 'in')
  const sure = inIt.filter((line) => isSure(line, care.after) || underWay.has(line.key))
  const jobs = sure.map((line): JobToPlan => {
    const { key, title, operations } = line
    const given = meanOf(line.outsideWork) > 0
    const skill = benchWork.kindOf[key] ?? null
    return {
      key,
      title,
      steps: operations.filter((step) => catalogue.operations.some((one) => one.key === step)),
      hours: meanOf(line.hours) * (line.fasteners ? stuck : 1),
      spentHours: spentHours[key] ?? 0,
      underWay: underWay.has(key),
      awayDays: backIn[key] ?? (given && !underWay.has(key) ? outsideDays : 0),
      wait: benchWork.waits[key] ?? null,
      skill,
      onLift: skill === null || !benchWork.besideTheLift.includes(skill),
    }
  })
  const steps = stepsToPlan(catalogue, { benchWork, stuck })
  const certain = tasksOfBike({
    jobs: jobs.map((job) => ({ ...job, spentHours: 0 })),
    steps,
    moreHours: 0,
    proveHours: 0,
  }).tasks.filter(({ kind }) => kind !== 'away' && kind !== 'wait')
  const certainHours = certain.reduce((sum, { hours }) => sum + hours, 0)
  const tasks = tasksOfBike({
    jobs,
    steps,
    moreHours: leastAsked(plan.hoursMean - certainHours),
    proveHours: proveHours(sure, catalogue),
  })
  const paid = facts.price?.amountMinor ?? 0
  return {
    bike: {
      ...tasks,
      id,
      viewingNo,
      dayPrice: dayPrice(
        { perDay: figures.dayPrice.perDayMinor, moneyPerYear: figures.dayPrice.moneyPerYear },
        { price: paid, costMean: plan.costMean },
      ),
      due,
      partsIn,
      running,
    },
    spread: spreadOf(plan),
  }
}

function isSure({ chance, oneOf }: JobLine, care: CareChances): boolean {
  return oneOf === null && meanChance(chance, care) >= 1 - 1e-9
}

/** Stuck fasteners on the average. */
function meanFactor({ fasteners }: Figures): number {
  return fasteners.reduce((sum, { chance, factor }) => sum + chance * factor, 0)
}

function stepsToPlan(
  { operations }: Pick<Catalogue, 'operations'>,
  { benchWork, stuck }: { benchWork: BenchWork; stuck: number },
): StepToPlan[] {
  const known = new Set(operations.map(({ key }) => key))
  return operations.map(({ key, title, hours, needs = [], fasteners = true }) => ({
    key,
    title,
    hours: meanOf(hours) * (fasteners ? stuck : 1),
    needs: needs.filter((need) => known.has(need)),
    putBackShare: benchWork.putBackShares[key] ?? benchWork.putBackShare,
    keepsOnLift: benchWork.keepsOnLift.includes(key),
  }))
}

/** Under a tenth of an hour nothing is planned for what may turn up. */
function leastAsked(hours: number): number {
  return hours < 0.1 ? 0 : hours
}

/** The checks that prove the cures of all jobs, each once. */
function proveHours(jobs: readonly JobLine[], { faults, checks }: Catalogue): number {
  const cured = new Set(jobs.flatMap((job) => job.faults.map(({ fault }) => fault)))
  const named = new Set(faults.filter(({ key }) => cured.has(key)).flatMap(({ rechecks }) => rechecks))
  const minutes = checks.filter(({ key }) => named.has(key)).reduce((sum, check) => sum + check.minutes, 0)
  return minutes / 60
}

/** As shares of the mean; a single 1 where there is next to no work. */
function spreadOf({ estimateInput, hoursMean }: Plan): HoursSpread {
  if (hoursMean < 0.1) return [1]
  const { hours } = estimate({ ...estimateInput, quantiles: levels })
  return levels.map((level) => hours.quantiles[String(level)]! / hoursMean)
}
