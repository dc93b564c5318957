import { CalcProblem } from '../quantity/problem'
import {
  type Bench,
  type BenchBike,
  type BenchPerson,
  benchInput,
  isHandsOn,
  taskId,
  unitsOf,
  whoMayDo,
} from './bench-input'
import type { TaskKind } from './bike-tasks'
import { type Plan, plan } from './plan'
import { type Placed, replay, type Taken, whatEachFollows } from './replay'
import { type Why, whyThen } from './why-then'
import { unitsADay } from './working-time'

/** How long the work on a bike may take, as a share of its mean: values at even levels from 0 to 1, ascending. */
export type HoursSpread = readonly number[]

export type BenchTask = {
  id: string
  bike: string
  key: string
  kind: TaskKind
  title: string
  jobs: readonly string[]
  /** Null where it goes by the clock. */
  person: string | null
  start: number
  end: number
  isPinned: boolean
  /** Nobody at the bench does this kind of work. */
  nobodyAble: boolean
}

export type BikeInPlan = {
  id: string
  /** By the plan, with every task as long as its mean. */
  ready: number
  /** The unit by which it is ready in one of ten, five of ten, eight of ten and nine of ten; null beyond the plan. */
  readyBy: { low: number | null; middle: number | null; promised: number | null; high: number | null }
  /** The chance that it is ready when it was promised; null where nothing was. */
  chanceOfDue: number | null
  dayPrice: number
  /** Minor units that it costs, standing until it is ready. */
  stands: number
  why: Why
}

export type BenchPlan = {
  /** In the order of their starts. */
  tasks: readonly BenchTask[]
  bikes: readonly BikeInPlan[]
  /** Each lift with the bikes that are on it, in order. */
  lifts: readonly (readonly { bike: string; from: number; to: number }[])[]
  /** Minor units that all bikes cost, standing until they are ready. */
  stands: number
  /** No order of work is better, and that is proven. */
  isProven: boolean
  /** What the best order might still save at most, minor units; null where a promise is broken: its late days are no money. */
  couldSave: number | null
}

/** As many outcomes are worked through for the dates, each level of each bike's hours once. */
const draws = 200

/**
 * The order of work on all bikes, with the day by which each is ready. The order is that of `plan` on mean hours; the
 * chances come from working the plan through with the hours of each bike drawn from its spread, 200 times, the bikes
 * apart, everybody keeping to the order (Latin hypercube sampling: McKay, Beckman, Conover 1979). The same bench
 * gives the same answer. `spreads` by bike; a bike without one takes its mean. Throws what `plan` throws, such as a
 * pin that cannot stand; with nobody at the bench nothing is planned.
 */
export function benchPlan(asked: {
  bench: Bench
  spreads: Readonly<Record<string, HoursSpread>>
  effort: number
}): BenchPlan {
  const { bench, spreads, effort } = asked
  if (bench.people.length === 0) return nothingPlanned
  const planned = goingOn(bench, effort)
  const placed = placedBy(planned, bench)
  const all = placed.map(({ placed }) => placed)
  const lifted = liftsTaken(placed, bench)
  const before = whatEachFollows(all, takenBy(placed, { bench, lifted }))
  const areLiftsFull = (unit: number) =>
    lifted.filter(({ from, to }) => from <= unit && unit < to).length >= bench.lifts
  const outcomes = readyOutcomes({ bench, spreads, placed: all, before })
  const bikes = bench.bikes.map((bike) => {
    const ready = planned.ready[bike.id]!
    return {
      id: bike.id,
      ready,
      readyBy: readyBy(outcomes.get(bike.id)!),
      chanceOfDue: bike.due === null ? null : shareUpTo(outcomes.get(bike.id)!, bike.due),
      dayPrice: bike.dayPrice,
      stands: ((ready - bench.now) / unitsADay) * bike.dayPrice,
      why: whyThen({ bike, bench, placed: all, before, areLiftsFull }),
    }
  })
  return {
    tasks: placed.map(({ task }) => task),
    bikes,
    lifts: liftRows(lifted, bench.lifts),
    stands: bikes.reduce((sum, { stands }) => sum + stands, 0),
    isProven: planned.objective <= planned.lowerBound * (1 + 1e-9),
    couldSave: bench.bikes.some(({ id, due }) => due !== null && planned.ready[id]! > due)
      ? null
      : Math.max(0, planned.objective - planned.lowerBound),
  }
}

/** Everybody goes on with what he is at; where that cannot be, such as with more bikes begun than lifts, nobody need. */
function goingOn(bench: Bench, effort: number): Plan {
  try {
    return plan(benchInput(bench, effort))
  } catch (error) {
    if (!(error instanceof CalcProblem) || bench.bikes.every(({ running }) => running.length === 0))
      throw error
    const bikes = bench.bikes.map((bike) => ({ ...bike, running: [] }))
    return plan(benchInput({ ...bench, bikes }, effort))
  }
}

const nothingPlanned: BenchPlan = {
  tasks: [],
  bikes: [],
  lifts: [],
  stands: 0,
  isProven: true,
  couldSave: 0,
}

type Both = { placed: Placed; task: BenchTask; bike: BenchBike; onLift: boolean }

/** All tasks of a plan by their starts; what marks the stay on the lift and takes no time is no task. */
function placedBy({ starts, by }: Plan, bench: Bench): Both[] {
  const people = new Map(bench.people.map((one) => [one.id, one]))
  const pinned = new Set(bench.pins.map(({ task }) => task))
  return bench.bikes
    .flatMap((bike) =>
      bike.tasks.map((task): Both => {
        const id = taskId(bike, task.key)
        const person = by?.[id] ?? null
        const start = starts[id]!
        const length = unitsOf(task)
        const release = Math.max(bench.now, ...task.jobs.map((job) => bike.partsIn[job] ?? 0))
        const after = task.after.map((key) => taskId(bike, key))
        const isPinned = pinned.has(id)
        const placed = { id, bike: bike.id, start, end: start, length, person, release, isPinned, after }
        placed.end = endOf(placed, people)
        const { key, kind, title, jobs } = task
        return {
          placed,
          bike,
          onLift: task.onLift && isHandsOn(task) && length > 0,
          task: {
            id,
            bike: bike.id,
            key,
            kind,
            title,
            jobs,
            person,
            start,
            end: placed.end,
            isPinned,
            nobodyAble:
              task.skill !== null &&
              !whoMayDo(task, bench.people).some(
                ({ skills }) => skills === null || skills.includes(task.skill!),
              ),
          },
        }
      }),
    )
    .sort((a, b) => a.placed.start - b.placed.start || a.placed.end - b.placed.end || byAfter(a, b))
}

/** Of two that start together and take no time, the one that the other comes after is first. */
function byAfter(a: Both, b: Both): number {
  if (b.placed.after.includes(a.placed.id)) return -1
  return a.placed.after.includes(b.placed.id) ? 1 : 0
}

function endOf(task: Placed, people: ReadonlyMap<string, BenchPerson>): number {
  const alone = replay({
    placed: [{ ...task, isPinned: true, after: [] }],
    before: new Map([[task.id, []]]),
    people: stretchedPeople(people.values()),
    lengthOf: ({ length }) => length,
  })
  return alone.ends.get(task.id)!
}

function stretchedPeople(people: Iterable<BenchPerson>) {
  return new Map(
    [...people].map(({ id, open, pace, atTheBike }) => [id, { open, stretch: pace / atTheBike }]),
  )
}

const asTaken = ({ placed: { id, start, end } }: Both): Taken => ({
  first: id,
  last: id,
  from: start,
  to: end,
})

type LiftTaken = Taken & { bike: string }

/** Each stay of a bike on a lift: the one that it is kept for, and each task beside it. */
function liftsTaken(all: readonly Both[], { bikes }: Bench): LiftTaken[] {
  return bikes.flatMap((bike) => {
    const its = all.filter((each) => each.bike === bike)
    const ofBike = (taken: Taken): LiftTaken => ({ ...taken, bike: bike.id })
    const { keptOnLift } = bike
    if (!keptOnLift) return its.filter(({ onLift }) => onLift).map((each) => ofBike(asTaken(each)))
    const placedAs = (key: string) => its.find(({ task }) => task.key === key)!.placed
    const [from, to] = [placedAs(keptOnLift.from), placedAs(keptOnLift.to)]
    const kept: Taken = { first: from.id, last: to.id, from: from.start, to: to.end }
    const outside = its.filter(
      ({ onLift, placed }) => onLift && (placed.end <= kept.from || placed.start >= kept.to),
    )
    return [kept, ...outside.map(asTaken)].map(ofBike)
  })
}

/** What of the workshop each task takes: its person, its bike, its lift. */
function takenBy(
  all: readonly Both[],
  { bench, lifted }: { bench: Bench; lifted: readonly LiftTaken[] },
): { by: readonly Taken[]; capacity: number }[] {
  const isAtWork = ({ placed }: Both) => placed.person !== null && placed.length > 0
  const ofWhom = (is: (each: Both) => boolean) => ({
    by: all.filter((each) => is(each) && isAtWork(each)).map(asTaken),
    capacity: 1,
  })
  return [
    ...bench.people.map(({ id }) => ofWhom(({ placed }) => placed.person === id)),
    ...bench.bikes.map((bike) => ofWhom((each) => each.bike === bike)),
    { by: lifted, capacity: bench.lifts },
  ]
}

/** Which lift each bike is on: the one that was free the shortest, best the one that it is on already. */
function liftRows(taken: readonly LiftTaken[], lifts: number): BenchPlan['lifts'] {
  const rows: { bike: string; from: number; to: number }[][] = Array.from({ length: lifts }, () => [])
  for (const { bike, from, to } of [...taken].sort((a, b) => a.from - b.from || a.to - b.to)) {
    const free = rows.filter((row) => (row.at(-1)?.to ?? 0) <= from)
    const row =
      free.find((one) => one.at(-1)?.bike === bike) ??
      free.sort((a, b) => (b.at(-1)?.to ?? -1) - (a.at(-1)?.to ?? -1))[0]
    const last = row?.at(-1)
    if (last?.bike === bike && last.to === from) last.to = to
    else row?.push({ bike, from, to })
  }
  return rows
}

/** When each bike was ready in each outcome, ascending; Infinity where the plan's days did not do. */
function readyOutcomes(asked: {
  bench: Bench
  spreads: Readonly<Record<string, HoursSpread>>
  placed: readonly Placed[]
  before: ReadonlyMap<string, readonly string[]>
}): Map<string, number[]> {
  const { bench, spreads, placed, before } = asked
  const people = stretchedPeople(bench.people)
  const shares = new Map(
    bench.bikes.map(({ id }, at) => [id, shuffled(levels(spreads[id] ?? [1]), at + 1)] as const),
  )
  const ready = new Map(bench.bikes.map(({ id }) => [id, [] as number[]]))
  for (let draw = 0; draw < draws; draw += 1) {
    const { ends } = replay({
      placed,
      before,
      people,
      lengthOf: ({ person, length, bike }) => (person === null ? length : length * shares.get(bike)![draw]!),
    })
    const last = new Map<string, number>()
    for (const { id, bike } of placed) last.set(bike, Math.max(last.get(bike) ?? bench.now, ends.get(id)!))
    for (const [bike, all] of ready) all.push(last.get(bike) ?? bench.now)
  }
  for (const all of ready.values()) all.sort((a, b) => a - b)
  return ready
}

/** The spread in the middle of each of so many even parts. */
function levels(spread: HoursSpread): number[] {
  return Array.from({ length: draws }, (_, draw) => {
    const at = ((draw + 0.5) / draws) * (spread.length - 1)
    const low = spread[Math.floor(at)]!
    return low + ((spread[Math.ceil(at)] ?? low) - low) * (at - Math.floor(at))
  })
}

/** In an order that looks like chance and is always the same (a linear congruential generator, Fisher–Yates). */
function shuffled(values: readonly number[], seed: number): number[] {
  const mixed = [...values]
  // Multiplier and increment of Numerical Recipes, ch. 7.1.
  let state = (seed * 2_654_435_761) >>> 0
  for (let at = mixed.length - 1; at > 0; at -= 1) {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    const other = Math.floor((state / 2 ** 32) * (at + 1))
    ;[mixed[at], mixed[other]] = [mixed[other]!, mixed[at]!]
  }
  return mixed
}

function readyBy(outcomes: readonly number[]): BikeInPlan['readyBy'] {
  const at = (share: number) => {
    const unit = outcomes[Math.ceil(share * outcomes.length) - 1]!
    return Number.isFinite(unit) ? unit : null
  }
  return { low: at(0.1), middle: at(0.5), promised: at(0.8), high: at(0.9) }
}

function shareUpTo(outcomes: readonly number[], unit: number): number {
  return outcomes.filter((ready) => ready <= unit).length / outcomes.length
}
