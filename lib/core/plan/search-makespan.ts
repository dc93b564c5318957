import { Sampler, tails } from './orders'
import type { Trials } from './trials'

interface One {
  cost: number
  order: Int32Array
}

/**
 * For the earliest end of all: a genetic search over orders (after Hartmann 1998, and Valls, Ballestín and
 * Quintanilla 2008). Every order is passed back and forth; the order that counts is that of the schedule it ends in.
 */
export function searchMakespan(trials: Trials, { random }: { random: () => number }): void {
  const { model } = trials
  const sampler = new Sampler(model)
  const urgency = tails(model)
  const size = 40
  const made = (order: Int32Array): One => {
    trials.pass(order, null)
    const cost = trials.justify()
    trials.orderInto(order)
    return { cost, order }
  }
  let parents: One[] = []
  for (let at = 0; at < size && !trials.over; at++) {
    const order = new Int32Array(model.tasks)
    sampler.draw(order, { urgency, greed: at === 0 ? Number.POSITIVE_INFINITY : 2, random })
    parents.push(made(order))
  }
  const inMother = new Uint8Array(model.tasks)
  while (!trials.over) {
    const children: One[] = []
    for (let at = 0; at < size && !trials.over; at++) {
      const mother = pick(parents, random)
      const father = pick(parents, random)
      const child = crossed(mother.order, father.order, { random, taken: inMother })
      mutate(child, { trials, random })
      children.push(made(child))
    }
    parents = survivors([...parents, ...children], size)
  }
}

function pick(parents: One[], random: () => number): One {
  const a = parents[Math.floor(random() * parents.length)]!
  const b = parents[Math.floor(random() * parents.length)]!
  return a.cost <= b.cost ? a : b
}

/** From the mother up to one place and from a second one on, between them in the father's order. */
function crossed(
  mother: Int32Array,
  father: Int32Array,
  { random, taken }: { random: () => number; taken: Uint8Array },
): Int32Array {
  const { length } = mother
  const one = Math.floor(random() * (length + 1))
  const other = Math.floor(random() * (length + 1))
  const from = Math.min(one, other)
  const to = Math.max(one, other)
  const child = new Int32Array(length)
  taken.fill(0)
  let count = 0
  for (; count < from; count++) {
    child[count] = mother[count]!
    taken[mother[count]!] = 1
  }
  for (let at = 0; count < to; at++) {
    const task = father[at]!
    if (taken[task] === 1) continue
    child[count++] = task
    taken[task] = 1
  }
  for (let at = 0; count < length; at++) {
    const task = mother[at]!
    if (taken[task] === 0) child[count++] = task
  }
  return child
}

/** Neighbours in the order change places here and there, where none comes after the other. */
function mutate(order: Int32Array, { trials, random }: { trials: Trials; random: () => number }): void {
  const { preds } = trials.model
  for (let at = 1; at < order.length; at++) {
    if (random() >= 0.05) continue
    const task = order[at]!
    const before = order[at - 1]!
    let free = true
    for (let one = preds.first[task]!; one < preds.first[task + 1]!; one++)
      if (preds.all[one] === before) free = false
    if (!free) continue
    order[at] = before
    order[at - 1] = task
  }
}

function survivors(all: One[], size: number): One[] {
  all.sort((a, b) => a.cost - b.cost)
  const kept: One[] = []
  for (const one of all) {
    if (kept.length === size) break
    if (kept.some((other) => other.cost === one.cost && same(other.order, one.order))) continue
    kept.push(one)
  }
  return kept
}

function same(a: Int32Array, b: Int32Array): boolean {
  for (let at = 0; at < a.length; at++) if (a[at] !== b[at]) return false
  return true
}
