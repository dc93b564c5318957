import type { Lists } from './model'
import { Sampler, tails } from './orders'
import type { Direction, Trials } from './trials'

/**
 * How many orders live side by side, and for how many schedules: few at first, which leads fast to something good;
 * then all is begun anew with more, which leads further. With the last it goes on until the effort is used up.
 */
const generations = [
  { size: 60, schedules: 5000 },
  { size: 200, schedules: 60_000 },
  { size: 800, schedules: Number.POSITIVE_INFINITY },
]
/** How much the first orders go by urgency: little, so that they differ. */
const greed = 0.6

/** A schedule as an order that leads to it, and how long it is, both as seen from its end of time. */
interface One {
  length: number
  order: Int32Array
}

/**
 * For the earliest end of all: two populations of orders, one of schedules made forward, one of schedules made
 * backward. Children of the one are scheduled in the other direction, so that every schedule is also a pass back or
 * forth (after the bi-population genetic search of Debels and Vanhoucke 2005). Two orders cross at two places; now and
 * then neighbours change places.
 */
export function searchMakespan(trials: Trials, { random }: { random: () => number }): void {
  if (trials.model.tasks === 0) return void trials.pass(trials.model.inTurn, null)
  for (const { size, schedules } of generations) {
    const until = trials.made + schedules
    let on = firstOf(trials, { size, random })
    let back = on.map((one) => (trials.over ? one : made(trials, { order: one.order, direction: 'back' })))
    while (!trials.over && trials.made < until) {
      back = childrenOf(trials, { parents: on, old: back, direction: 'back', random })
      on = childrenOf(trials, { parents: back, old: on, direction: 'on', random })
    }
    if (trials.over) return
  }
}

function firstOf(trials: Trials, { size, random }: { size: number; random: () => number }): One[] {
  const { model } = trials
  const sampler = new Sampler(model)
  const urgency = tails(model)
  const all: One[] = []
  for (let at = 0; at < size && (at === 0 || !trials.over); at++) {
    const order = new Int32Array(model.tasks)
    sampler.draw(order, { urgency, greed: at === 0 ? Number.POSITIVE_INFINITY : greed, random })
    all.push(made(trials, { order: order.reverse(), direction: 'on' }))
  }
  return all
}

/** The schedule of an order that was made from the other end of time, so that it is read from behind. */
function made(trials: Trials, { order, direction }: { order: Int32Array; direction: Direction }): One {
  const turned = order.slice().reverse()
  const length = trials.lengthOf(turned, direction)
  return { length, order: turned }
}

interface Breeding {
  parents: One[]
  /** Who lived in the other direction. */
  old: One[]
  direction: Direction
  random: () => number
}

/**
 * Of each of the parents and a good other one two children, the better of which takes its place in the other
 * direction; only the best that was there gives way to nothing worse.
 */
function childrenOf(trials: Trials, { parents, old, direction, random }: Breeding): One[] {
  const { model } = trials
  const best = old.reduce((least, { length }) => Math.min(least, length), Number.POSITIVE_INFINITY)
  // The parents' orders run the other way.
  const before = direction === 'on' ? model.succs : model.preds
  const childOf = (mother: One, father: One): One => {
    const order = crossed(mother.order, { father: father.order, random })
    changeNeighbours(order, { before, random })
    return made(trials, { order, direction })
  }
  return parents.map((one, at) => {
    if (trials.over) return old[at]!
    const other = betterOfTwo(parents, random)
    const first = childOf(one, other)
    const second = trials.over ? first : childOf(other, one)
    const child = first.length <= second.length ? first : second
    return old[at]!.length === best && child.length > best ? old[at]! : child
  })
}

function betterOfTwo(all: readonly One[], random: () => number): One {
  const one = all[Math.floor(random() * all.length)]!
  const other = all[Math.floor(random() * all.length)]!
  return one.length <= other.length ? one : other
}

/** The mother's order, but for a stretch of a quarter to three quarters of it that comes in the father's. */
function crossed(
  mother: Int32Array,
  { father, random }: { father: Int32Array; random: () => number },
): Int32Array {
  const { length } = mother
  const share = 0.25 + 0.5 * random()
  const from = Math.floor(random() * length * (1 - share))
  const to = Math.floor(from + share * length)
  const child = new Int32Array(length)
  const taken = new Uint8Array(length)
  for (let at = 0; at < from; at++) {
    child[at] = mother[at]!
    taken[mother[at]!] = 1
  }
  let count = from
  for (let at = 0; count < to; at++) {
    const task = father[at]!
    if (taken[task] === 1) continue
    child[count++] = task
    taken[task] = 1
  }
  for (let at = 0; count < length; at++) if (taken[mother[at]!] === 0) child[count++] = mother[at]!
  return child
}

function changeNeighbours(
  order: Int32Array,
  { before, random }: { before: Lists; random: () => number },
): void {
  // One or two in a small plan, two or three in a large one.
  const chance = Math.min(0.05, 2.5 / order.length)
  for (let at = 1; at < order.length; at++) {
    if (random() >= chance) continue
    const task = order[at]!
    const other = order[at - 1]!
    if (comesAfter(task, { other, before })) continue
    order[at] = other
    order[at - 1] = task
  }
}

function comesAfter(task: number, { other, before }: { other: number; before: Lists }): boolean {
  for (let at = before.first[task]!; at < before.first[task + 1]!; at++)
    if (before.all[at] === other) return true
  return false
}
