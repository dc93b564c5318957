import { capacityOf, clockOf } from './check-resources'
import { OpenTimes } from './open-times'
import type { PlanInput } from './plan.input'

/** Lists of numbers end to end: those of `at` stand from `first[at]` to before `first[at + 1]`. */
export interface Lists {
  first: Int32Array
  all: Int32Array
}

export interface Hold {
  bike: number
  resource: number
  from: number
  to: number
}

/** A plan's question in numbers: tasks, resources, bikes and calendars by their place in the input. */
export interface Model {
  objective: PlanInput['objective']
  ids: string[]
  tasks: number
  capacity: Int32Array
  bikeOf: Int32Array
  /** Of the task and of its bike, whichever is later. */
  release: Float64Array
  pausable: Uint8Array
  /** Tasks in an order in which each stands behind all it comes after; and the place of each in it. */
  inTurn: Int32Array
  turnOf: Int32Array
  preds: Lists
  succs: Lists
  /** What a task takes for all its duration. Empty for a task that takes no time. */
  needs: Lists & { amount: Int32Array }
  /** How a task may be done: once for each person who may, or the one way. */
  ways: { first: Int32Array; person: Int32Array; duration: Float64Array; clock: Int32Array }
  clocks: OpenTimes[]
  holds: Hold[]
  /** Start of a pinned task; −1 for the others. */
  pinned: Float64Array
  /** A way in which each pinned task can stand beside the other pins, where no other is wanted; −1 for the others. */
  pinnedWay: Int32Array
  bikes: { count: number; weight: Float64Array; release: Float64Array; due: Float64Array; late: Float64Array }
  /** No schedule that leaves no one idle without need ends later. */
  horizon: number
}

/** `ways.clock` of what is always open. */
export const alwaysOpen = -1
/** `ways.person` where nobody in particular does it. */
export const nobody = -1

export function modelOf(input: PlanInput): Model {
  const tasks = input.bikes.flatMap((bike, at) => bike.tasks.map((task) => ({ ...task, bike: at })))
  const placeOf = new Map(tasks.map(({ id }, at) => [id, at]))
  const resources = Object.keys(input.resources)
  const resourceOf = new Map(resources.map((name, at) => [name, at]))
  const preds = tasks.map(({ after }) => [...new Set(after)].map((id) => placeOf.get(id)!))
  const succs = tasks.map((): number[] => [])
  for (const [at, list] of preds.entries()) for (const pred of list) succs[pred]!.push(at)
  const inTurn = inTurnOf(preds, succs)
  const turnOf = new Int32Array(tasks.length)
  inTurn.forEach((task, turn) => {
    turnOf[task] = turn
  })
  const { ways, clocks } = waysOf(input, { tasks, resourceOf })
  const needs = tasks.map(({ uses, duration }) =>
    Object.entries(uses).flatMap(([name, amount]) =>
      amount > 0 && duration > 0 ? [{ resource: resourceOf.get(name)!, amount }] : [],
    ),
  )
  const release = Float64Array.from(tasks, ({ bike, release }) =>
    Math.max(release, input.bikes[bike]!.release),
  )
  const pinned = Float64Array.from(tasks, ({ id }) =>
    Object.hasOwn(input.fixed, id) ? (input.fixed[id]!.start ?? -1) : -1,
  )
  const longest = tasks.map((_, at) =>
    Math.max(...ways.duration.subarray(ways.first[at]!, ways.first[at + 1]!)),
  )
  const closed = clocks.map(({ closes }) => closes.at(-1) ?? 0)
  return {
    objective: input.objective,
    ids: tasks.map(({ id }) => id),
    tasks: tasks.length,
    capacity: Int32Array.from(resources, (name) => capacityOf(input.resources[name]!)),
    bikeOf: Int32Array.from(tasks, ({ bike }) => bike),
    release,
    pausable: Uint8Array.from(tasks, ({ pausable }) => (pausable ? 1 : 0)),
    inTurn,
    turnOf,
    preds: listsOf(preds),
    succs: listsOf(succs),
    needs: {
      ...listsOf(needs.map((list) => list.map(({ resource }) => resource))),
      amount: Int32Array.from(needs.flat(), ({ amount }) => amount),
    },
    ways,
    clocks,
    holds: input.bikes.flatMap(({ holds }, bike) =>
      holds.map(({ resource, from, to }) => ({
        bike,
        resource: resourceOf.get(resource)!,
        from: placeOf.get(from)!,
        to: placeOf.get(to)!,
      })),
    ),
    pinned,
    pinnedWay: new Int32Array(tasks.length).fill(-1),
    bikes: {
      count: input.bikes.length,
      weight: Float64Array.from(input.bikes, ({ weight }) => weight),
      release: Float64Array.from(input.bikes, ({ release }) => release),
      due: Float64Array.from(input.bikes, ({ due }) => due ?? Number.POSITIVE_INFINITY),
      late: Float64Array.from(input.bikes, ({ latePerUnit }) => latePerUnit),
    },
    horizon: [...release, ...pinned, ...closed].reduce((most, one) => Math.max(most, one), 0) + sum(longest),
  }
}

type Task = PlanInput['bikes'][number]['tasks'][number]

function waysOf(
  input: PlanInput,
  { tasks, resourceOf }: { tasks: Task[]; resourceOf: ReadonlyMap<string, number> },
): Pick<Model, 'ways' | 'clocks'> {
  const clocks: OpenTimes[] = []
  const known = new Map<string, number>()
  const clockFor = (names: readonly string[]): number => {
    if (names.length === 0) return alwaysOpen
    const key = JSON.stringify(names)
    const found = known.get(key)
    if (found !== undefined) return found
    known.set(key, clocks.length)
    const each = names.map((name) => new OpenTimes(input.calendars[name]!))
    clocks.push(each.reduce(OpenTimes.both))
    return clocks.length - 1
  }
  const first = [0]
  const all: { person: number; duration: number; clock: number }[] = []
  for (const task of tasks) {
    const pinnedTo = Object.hasOwn(input.fixed, task.id) ? input.fixed[task.id]!.by : undefined
    const people = pinnedTo === undefined ? (task.by ?? [null]) : [pinnedTo]
    for (const person of people) {
      const used = Object.keys(task.uses).filter((name) => task.uses[name]! > 0)
      const taken = person === null ? used : [...used, person]
      const named = [task.clock, ...taken.map((name) => clockOf(input.resources[name]!))]
      const pace = person !== null && Object.hasOwn(input.pace, person) ? input.pace[person]! : 1
      all.push({
        person: person === null ? nobody : resourceOf.get(person)!,
        duration: paced(task.duration, pace),
        clock: clockFor([...new Set(named.filter((name) => name !== undefined))].sort()),
      })
    }
    first.push(all.length)
  }
  return {
    clocks,
    ways: {
      first: Int32Array.from(first),
      person: Int32Array.from(all, ({ person }) => person),
      duration: Float64Array.from(all, ({ duration }) => duration),
      clock: Int32Array.from(all, ({ clock }) => clock),
    },
  }
}

/** Rounded up, but not for what only the product's rounding put above a whole number: 10 × 1.1 is 11. */
function paced(duration: number, pace: number): number {
  return Math.ceil(duration * pace * (1 - 1e-12))
}

function inTurnOf(preds: readonly number[][], succs: readonly number[][]): Int32Array {
  const open = preds.map(({ length }) => length)
  const inTurn: number[] = open.flatMap((count, task) => (count === 0 ? [task] : []))
  for (let at = 0; at < inTurn.length; at++) {
    for (const next of succs[inTurn[at]!]!) {
      open[next]!--
      if (open[next] === 0) inTurn.push(next)
    }
  }
  return Int32Array.from(inTurn)
}

function listsOf(lists: readonly number[][]): Lists {
  const first = new Int32Array(lists.length + 1)
  lists.forEach(({ length }, at) => {
    first[at + 1] = first[at]! + length
  })
  return { first, all: Int32Array.from(lists.flat()) }
}

function sum(values: readonly number[]): number {
  return values.reduce((total, one) => total + one, 0)
}
