import { alwaysOpen, type Model, nobody } from './model'
import { OpenTimes } from './open-times'
import { leastDuration, tails } from './orders'
import { sideOf } from './side'
import { earliestOf } from './windows'

/** Work that must be done out of a pool: so much at least, not before, and so long before its bike is ready. */
export interface Share {
  bike: number
  /** −1 for a hold. */
  task: number
  /** Units of the pool times time. */
  work: number
  /** It takes so long, and its last moment of that is its end. */
  duration: number
  /** Earliest start. */
  head: number
  /** From its end to that of its bike at least; for `makespan` to the end of all. */
  tail: number
}

/** What several tasks draw on: a resource, or the people of whom one of some does a task. */
export interface Pool {
  capacity: number
  /** When any of it can be at work; null for always. */
  open: OpenTimes | null
  shares: Share[]
}

/** All pools of a plan, and each task as if it were alone (`free`), for bounds below which no plan can come. */
export function poolsOf(model: Model): { pools: Pool[]; free: Share[] } {
  const { ways, needs, bikeOf, tasks, capacity } = model
  const { start } = earliestOf(model)
  const tail = model.objective === 'makespan' ? tails(model) : tailsWithinBike(model)
  const durations = Float64Array.from({ length: tasks }, (_, task) => leastDuration(task, ways))
  const side = sideOf(model, 'on')
  const shareOf = (task: number, amount: number): Share => ({
    bike: bikeOf[task]!,
    task,
    work: amount * durations[task]!,
    duration: durations[task]!,
    head: start[task]!,
    tail: tail[task]! - durations[task]!,
  })
  const pools: Pool[] = []
  for (let resource = 0; resource < capacity.length; resource++) {
    const shares: Share[] = []
    const clocks: number[] = []
    for (let task = 0; task < tasks; task++) {
      let amount = 0
      for (let at = needs.first[task]!; at < needs.first[task + 1]!; at++)
        if (needs.all[at] === resource) amount += side.own[at]!
      // A task that may find a unit in a hold of its bike takes one less at the least.
      const maybe = model.holds.some((hold) => hold.bike === bikeOf[task] && hold.resource === resource)
      if (amount > 0 && maybe && side.mayShare[task] === 1) amount--
      if (amount === 0) continue
      shares.push(shareOf(task, amount))
      clocks.push(...ways.clock.subarray(ways.first[task]!, ways.first[task + 1]!))
    }
    const held = heldShares(model, { resource, start, tail, durations })
    if (held.length > 0) clocks.push(alwaysOpen)
    pools.push({ capacity: capacity[resource]!, open: whenAny(model, clocks), shares: [...shares, ...held] })
  }
  for (const crew of crews(model)) {
    const shares: Share[] = []
    const clocks: number[] = []
    for (let task = 0; task < tasks; task++) {
      const people = ways.person.subarray(ways.first[task]!, ways.first[task + 1]!)
      if (people[0] === nobody || !people.every((person) => crew.has(person))) continue
      if (
        people.some((person) =>
          model.holds.some((hold) => hold.bike === bikeOf[task] && hold.resource === person),
        )
      )
        continue
      shares.push(shareOf(task, 1))
      clocks.push(...ways.clock.subarray(ways.first[task]!, ways.first[task + 1]!))
    }
    pools.push({ capacity: crew.size, open: whenAny(model, clocks), shares })
  }
  const used = pools.map((pool) => ({ ...pool, shares: pool.shares.filter(({ work }) => work > 0) }))
  return {
    pools: used.filter(({ shares }) => shares.length > 0),
    free: Array.from({ length: tasks }, (_, task) => ({ ...shareOf(task, 0), head: start[task]! })),
  }
}

/** A hold is a share of its own: one unit for as long as it must last at least, up to the end of its last task. */
function heldShares(
  model: Model,
  {
    resource,
    start,
    tail,
    durations,
  }: { resource: number; start: Float64Array; tail: Float64Array; durations: Float64Array },
): Share[] {
  const seen = new Set<number>()
  return sideOf(model, 'on').holds.flatMap(({ bike, resource: held, from, to, least }) => {
    // Two holds of a bike on one resource may share their unit: only one of them is sure to count.
    if (held !== resource || least === 0 || seen.has(bike)) return []
    seen.add(bike)
    return [
      { bike, task: -1, work: least, duration: least, head: start[from]!, tail: tail[to]! - durations[to]! },
    ]
  })
}

/** Groups of people of whom any one does some task: each that a task names, and all together. */
function crews({ ways, tasks }: Model): Set<number>[] {
  const named = new Map<string, Set<number>>()
  const add = (people: readonly number[]) => {
    const crew = new Set([...people].sort((a, b) => a - b))
    named.set([...crew].join(), crew)
  }
  for (let task = 0; task < tasks; task++) {
    const people = Array.from(ways.person.subarray(ways.first[task]!, ways.first[task + 1]!))
    if (people[0] !== nobody) add(people)
  }
  if (named.size > 1) add([...named.values()].flatMap((crew) => [...crew]))
  return [...named.values()]
}

/** Of each task the longest way from its start to the end of its own bike's tasks. */
function tailsWithinBike({ inTurn, succs, ways, bikeOf }: Model): Float64Array {
  const tail = new Float64Array(inTurn.length)
  for (let turn = inTurn.length - 1; turn >= 0; turn--) {
    const task = inTurn[turn]!
    let after = 0
    for (let at = succs.first[task]!; at < succs.first[task + 1]!; at++)
      if (bikeOf[succs.all[at]!] === bikeOf[task]) after = Math.max(after, tail[succs.all[at]!]!)
    tail[task] = after + leastDuration(task, ways)
  }
  return tail
}

function whenAny({ clocks }: Model, of: readonly number[]): OpenTimes | null {
  if (of.includes(alwaysOpen)) return null
  return [...new Set(of)]
    .map((clock) => clocks[clock]!)
    .reduce((a, b) => OpenTimes.either(a, b), new OpenTimes([]))
}
