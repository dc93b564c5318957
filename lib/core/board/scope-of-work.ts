import type { FaultState } from '../checks/faults'
import { hoursValue } from '../deal/bench-hour'
import { dayPrice } from '../deal/day-price'
import type { DealInput } from '../deal/deal.input'
import { keptOfSale } from '../deal/kept-of-sale'
import { meanOf, type Uncertain } from '../quantity/three-point'
import { outsideToPay, partsToPay } from '../work/parts'
import { isDropped, type KnownJob, knownJobs } from '../work/propose-claims'
import type { JobLine } from '../work/propose-jobs'
import { type Scope, scope } from '../work/scope'
import type { ScopeInput } from '../work/scope.input'
import { closureOf } from '../work/union'
import type { BikeToWorkOut } from './bike-result'

/** A job that nobody must do, with what the best scope of work says of it. Minor units. */
export type OptionalJob = {
  job: string
  title: string
  /** Titles of the faults it would cure. */
  cures: readonly string[]
  /** What it brings: kept of the sale price after tax and reserve, and the days it saves at the day's price. */
  uplift: number
  daysSaved: number
  /** Its own parts, outside work and hours at the bench hour's price. */
  cost: number
  /** Operations of its own that the jobs done anyway do not open. */
  opens: readonly string[]
  pays: boolean
  /** Where it does not pay: by how much the whole would be worth less with it. Null where it cannot be. */
  shortBy: number | null
  /** A person took it in, or took it out. */
  decided: 'in' | 'out' | null
}

export type ScopeOfWork = {
  jobs: readonly OptionalJob[]
  /** Of the optional jobs that pay, less what they cost. Minor units. */
  gain: number
  /** What `calc scope` was asked. */
  input: ScopeInput
}

type Worked = {
  faults: readonly FaultState[]
  jobs: readonly JobLine[]
  dealInput: DealInput | null
  /** Mean of the estimate, minor units. */
  costMean: number
  /** The best price noted elsewhere for one like it, or null. */
  bestPrice: number | null
}
type Asked = Worked & {
  dealInput: DealInput
  optional: ReadonlyMap<string, Optional>
  known: ReadonlyMap<string, KnownJob>
}

/**
 * Which optional jobs pay, given what is open anyway. Optional is what cures a fault that is there and judged by
 * money; every other job that is certain must be done, and what rests on a chance opens nothing for certain. An hour
 * counts at the bench hour's price, which takes the place of the labour cost. All that the optional jobs bring
 * together is never above the best price noted less what the bike brings with none of them. Null without a sale price.
 */
export function scopeOfWork(bike: BikeToWorkOut, worked: Worked): ScopeOfWork | null {
  const { dealInput } = worked
  if (!dealInput) return null
  const known = knownJobs(bike)
  const optional = optionalJobs(worked, known)
  const isLeftOut = ({ key }: Optional) => isDropped(bike.decisions, key)
  const wanted = [...optional.values()].filter((one) => !isLeftOut(one))
  const askedFor = (some: readonly Optional[]) => {
    const of = new Map(some.map((one) => [one.key, one]))
    const input = scopeInputOf(bike, { ...worked, dealInput, optional: of, known })
    return { input, best: scope(input), known, bike }
  }
  const asked = askedFor(wanted)
  const { input, best } = asked
  const musts = new Set(input.jobs.filter(({ must }) => must).map(({ key }) => key))
  const without = scope({ ...input, jobs: input.jobs.filter(({ key }) => musts.has(key)), alternatives: [] })
  return {
    // What a person left out takes the place of nothing; beside it stands what it would do if it were wanted.
    jobs: [...optional.values()].map((one) =>
      shown(one, isLeftOut(one) ? askedFor([...wanted, one]) : asked),
    ),
    gain: best.value - without.value,
    input,
  }
}

type Optional = { key: string; faults: FaultState[]; line: JobLine | undefined }

/** By job: the faults that are there, are judged by money, and that it would cure. */
function optionalJobs(
  { faults, jobs }: Pick<Worked, 'faults' | 'jobs'>,
  known: ReadonlyMap<string, KnownJob>,
): Map<string, Optional> {
  const lines = new Map(jobs.map((line) => [line.key, line]))
  const mustBe = (key: string) => isMust(lines.get(key))
  const optional = new Map<string, Optional>()
  for (const fault of faults) {
    if (fault.state !== 'found' && fault.state !== 'added') continue
    if (fault.call !== 'pays' || fault.awaitsRecheck || fault.causes.length > 0) continue
    if (fault.jobs.some(mustBe)) continue
    // Where a person chose the job there is no other: it stands first.
    for (const key of fault.chosenJob ? fault.jobs.slice(0, 1) : fault.jobs) {
      if (!known.has(key)) continue
      const one = optional.get(key) ?? { key, faults: [], line: lines.get(key) }
      one.faults.push(fault)
      optional.set(key, one)
    }
  }
  return optional
}

/** Certain to be done, and not because somebody thought that it pays. */
function isMust(line: JobLine | undefined): boolean {
  if (line?.state !== 'in' || !isCertain(line.chance)) return false
  // What is only perhaps there makes nothing certain: then a person took the job in for what it is worth.
  const there = line.faults.filter(({ state }) => state !== 'open')
  return there.length === 0 || there.some(({ call }) => call !== 'pays')
}

function isCertain(chance: JobLine['chance']): boolean {
  return typeof chance === 'number' ? chance === 1 : Object.values(chance).every((one) => one === 1)
}

function scopeInputOf(bike: BikeToWorkOut, asked: Asked): ScopeInput {
  const { optional, known } = asked
  const { figures, catalogue, told } = bike
  const factor = figures.fasteners.reduce((sum, state) => sum + state.chance * state.factor, 0)
  const worth = (hours: Uncertain, fastened: boolean) =>
    hoursValue({
      hours: meanOf(hours) * (fastened ? factor : 1),
      labourCost: figures.labourCostMinor,
      benchHourPrice: figures.benchHourPriceMinor,
    })
  const costOf = ({ key, hours, parts, outsideWork = 0, fasteners = true }: Priced) =>
    Math.round(
      partsToPay({ key, parts }, told?.parts ?? []).reduce(
        (sum, part) => sum + part.qty * meanOf(part.unitCost),
        0,
      ) +
        meanOf(outsideToPay({ key, outsideWork }, told?.outside ?? [])) +
        worth(hours, fasteners),
    )
  const musts = asked.jobs.filter((line) => isMust(line) && !optional.has(line.key))
  const wanted = [...optional.values()]
  const uplifts = capped(
    wanted.map((one) => upliftOf(one, bike, asked)),
    wanted,
    asked,
  )
  const jobs: ScopeInput['jobs'] = [
    ...musts.map((line) => ({
      key: line.key,
      cost: costOf(line),
      uplift: 0,
      operations: [...line.operations],
      must: true,
      requires: [],
    })),
    ...wanted.map(({ key, line }, place) => {
      const job = line ?? known.get(key)!
      return {
        key,
        cost: costOf(job),
        uplift: uplifts[place]!,
        operations: [...job.operations],
        must: false,
        requires: [],
      }
    }),
  ]
  const needs = new Map(catalogue.operations.map(({ key, needs: of = [] }) => [key, { needs: of }]))
  const used = closureOf(
    jobs.flatMap(({ operations }) => operations),
    needs,
  )
  const groups = new Map(
    wanted.flatMap(({ faults }) =>
      faults.map(({ fault, jobs: cures }) => [fault, cures.filter((job) => optional.has(job))] as const),
    ),
  )
  return {
    operations: Object.fromEntries(
      catalogue.operations
        .filter(({ key }) => used.has(key))
        .map(({ key, hours, needs: of = [], fasteners = true }) => [
          key,
          { cost: Math.round(worth(hours, fasteners)), needs: [...of] },
        ]),
    ),
    jobs,
    alternatives: [...groups.values()].filter((group) => group.length > 1),
    mustOneOf: [],
  }
}

type Priced = Pick<JobLine, 'key' | 'hours' | 'parts'> & { outsideWork?: Uncertain; fasteners?: boolean }

/** What is kept of what the faults take off the sale price, and the days they cost, minor units, not rounded. */
function upliftOf({ faults }: Optional, { price }: BikeToWorkOut, { dealInput, costMean }: Asked): number {
  const paid = price?.amountMinor ?? 0
  const { above } = keptOfSale(dealInput, paid)
  const aDay = dayPrice(dealInput.holding, { price: paid, costMean })
  return faults.reduce(
    (sum, { saleOffMinor, slowerDays }) => sum + saleOffMinor * above + slowerDays * aDay,
    0,
  )
}

/** Brought down together where they would lift the sale price above the best one noted. */
function capped(
  uplifts: readonly number[],
  wanted: readonly Optional[],
  { dealInput: { sale }, bestPrice }: Asked,
): number[] {
  const off = new Map(wanted.flatMap(({ faults }) => faults.map((one) => [one.fault, one.saleOffMinor])))
  const lift = [...off.values()].reduce((sum, one) => sum + one, 0)
  const withNone = Math.max(0, meanOf(sale) - lift)
  const best = Math.max(bestPrice ?? 0, typeof sale === 'number' ? sale : sale.high)
  const share = lift > 0 ? Math.min(1, Math.max(0, best - withNone) / lift) : 1
  return uplifts.map((uplift) => Math.round(uplift * share))
}

function shown(
  one: Optional,
  {
    input,
    best,
    known,
    bike,
  }: { input: ScopeInput; best: Scope; known: ReadonlyMap<string, KnownJob>; bike: BikeToWorkOut },
): OptionalJob {
  const { key, faults, line } = one
  const job = input.jobs.find((one) => one.key === key)!
  const needs = new Map(Object.entries(input.operations))
  const openAnyway = closureOf(
    input.jobs.filter(({ must }) => must).flatMap(({ operations }) => operations),
    needs,
  )
  const titles = new Map(bike.catalogue.operations.map((operation) => [operation.key, operation.title]))
  const pays = best.chosen.includes(key)
  return {
    job: key,
    title: line?.title ?? known.get(key)!.title,
    cures: faults.map(({ title }) => title),
    uplift: job.uplift,
    daysSaved: faults.reduce((sum, { slowerDays }) => sum + slowerDays, 0),
    cost: job.cost,
    opens: [...closureOf(job.operations, needs)]
      .filter((operation) => !openAnyway.has(operation))
      .map((operation) => titles.get(operation) ?? operation),
    pays,
    shortBy: pays ? null : (best.left.find((one) => one.key === key)?.shortBy ?? null),
    decided: isDropped(bike.decisions, key) ? 'out' : line?.addedBy ? 'in' : null,
  }
}
