import { bikeRules } from './bike-rules'
import type { Model } from './model'
import { Sampler } from './orders'
import type { Trials } from './trials'

/** How many schedules back a new one is compared with: some worse ones are taken, so that no dead end holds it. */
const memory = 12

/**
 * For weights and ready times: starts from several rules, both in the order of each and as time goes on, then moves
 * whole bikes, single tasks and people about. A change is kept where it is no worse than what stood a while ago
 * (late acceptance, Burke and Bykov 2017); what is promising is passed back and forth.
 */
export function searchReady(
  trials: Trials,
  { random, hints }: { random: () => number; hints: Float64Array[] },
): void {
  const { model } = trials
  const sampler = new Sampler(model)
  let current = firstOf(trials, { sampler, hints })
  // Bikes without tasks: there is nothing to move.
  if (model.tasks === 0) return
  const costs = new Float64Array(memory).fill(current.cost)
  const order = new Int32Array(model.tasks)
  const moves = movesOf(model, random)
  for (let step = 0; !trials.over; step++) {
    const next = { ...current, urgency: current.urgency.slice(), wanted: current.wanted.slice() }
    moves[Math.floor(random() * moves.length)]!(next)
    sampler.draw(order, { urgency: next.urgency, greed: Number.POSITIVE_INFINITY, random })
    next.cost = trials.pass(order, next.wanted)
    const before = costs[step % memory]!
    if (next.cost <= Math.min(before, current.cost) - 1) next.cost = trials.justify()
    if (next.cost <= before || next.cost <= current.cost) {
      settle(trials, next, order)
      current = next
    }
    if (current.cost < before) costs[step % memory] = current.cost
  }
}

/** Whoever ends first. */
const anyone = -1

interface Standing {
  cost: number
  /** Later in the order is less urgent. */
  urgency: Float64Array
  wanted: Int32Array
  start: Float64Array
  finish: Float64Array
}

function firstOf(trials: Trials, { sampler, hints }: { sampler: Sampler; hints: Float64Array[] }): Standing {
  const { model } = trials
  const order = new Int32Array(model.tasks)
  let best: Standing | null = null
  const judge = (cost: number) => {
    if (best !== null && cost >= best.cost) return
    best = {
      cost,
      urgency: new Float64Array(model.tasks),
      wanted: new Int32Array(model.tasks),
      start: new Float64Array(),
      finish: new Float64Array(),
    }
    settle(trials, best, order)
  }
  for (const urgency of [...hints, ...bikeRules(model)]) {
    sampler.draw(order, { urgency, greed: Number.POSITIVE_INFINITY, random: () => 0 })
    trials.pass(order, null)
    judge(trials.justify())
    if (trials.over) break
    trials.parallel(urgency)
    judge(trials.justify())
    if (trials.over) break
  }
  return best!
}

/** What stands is the schedule just made: its order by start, and who does what. */
function settle(trials: Trials, standing: Standing, order: Int32Array): void {
  trials.orderInto(order)
  for (let at = 0; at < order.length; at++) standing.urgency[order[at]!] = -at
  standing.wanted.set(trials.forward.way)
  standing.start = trials.forward.start.slice()
  standing.finish = trials.forward.finish.slice()
}

type Move = (standing: Standing) => void

function movesOf(model: Model, random: () => number): Move[] {
  const upTo = (count: number) => Math.floor(random() * count)
  const tasksOf = Array.from({ length: model.bikes.count }, (): number[] => [])
  for (const task of model.inTurn) tasksOf[model.bikeOf[task]!]!.push(task)
  const busy = tasksOf.filter((tasks) => tasks.length > 0)
  const choosy = Array.from(model.inTurn).filter(
    (task) => model.ways.first[task + 1]! - model.ways.first[task]! > 1,
  )

  /** All tasks of one bike together, just before or behind some task of another. */
  const moveBike: Move = ({ urgency, wanted }) => {
    const tasks = busy[upTo(busy.length)]!
    const target = urgency[upTo(model.tasks)]! + (random() < 0.5 ? 0.5 : -0.5)
    const inOrder = [...tasks].sort((a, b) => urgency[b]! - urgency[a]!)
    inOrder.forEach((task, at) => {
      urgency[task] = target - (0.4 * at) / inOrder.length
      wanted[task] = anyone
    })
  }

  /** Two bikes change places, task for task as far as they go. */
  const swapBikes: Move = ({ urgency, wanted }) => {
    const one = [...busy[upTo(busy.length)]!].sort((a, b) => urgency[b]! - urgency[a]!)
    const other = [...busy[upTo(busy.length)]!].sort((a, b) => urgency[b]! - urgency[a]!)
    const places = [...one, ...other].map((task) => urgency[task]!).sort((a, b) => b - a)
    const firstGoes = urgency[one[0]!]! < urgency[other[0]!]! ? [...one, ...other] : [...other, ...one]
    firstGoes.forEach((task, at) => {
      urgency[task] = places[at]!
      wanted[task] = anyone
    })
  }

  /** A task on which a bike's ready time hangs, and that waits for people or lifts, goes before what starts meanwhile. */
  const pullTask: Move = ({ urgency, wanted, start, finish }) => {
    const tasks = busy[upTo(busy.length)]!
    let task = tasks[0]!
    for (const one of tasks) if (finish[one]! > finish[task]!) task = one
    let pulled = -1
    let toward = 0
    let seen = 0
    for (;;) {
      let from = model.release[task]!
      let last = -1
      for (let at = model.preds.first[task]!; at < model.preds.first[task + 1]!; at++) {
        const pred = model.preds.all[at]!
        if (finish[pred]! < from) continue
        from = finish[pred]!
        last = pred
      }
      if (start[task]! > from) {
        seen++
        if (random() * seen < 1) {
          pulled = task
          toward = from
        }
      }
      if (last < 0) break
      task = last
    }
    if (pulled < 0) return
    let place = Number.NEGATIVE_INFINITY
    for (let other = 0; other < model.tasks; other++)
      if (start[other]! >= toward && other !== pulled) place = Math.max(place, urgency[other]!)
    urgency[pulled] = place + 0.5
    wanted[pulled] = anyone
  }

  /** All tasks of a bike sooner or later by as many places. */
  const shiftBike: Move = ({ urgency, wanted }) => {
    const reach = 1 + (random() ** 2 * model.tasks) / 2
    const by = (random() < 0.5 ? -1 : 1) * reach + 0.5
    for (const task of busy[upTo(busy.length)]!) {
      urgency[task]! += by
      wanted[task] = anyone
    }
  }

  const moveTask: Move = ({ urgency, wanted }) => {
    const times = 1 + upTo(2)
    for (let time = 0; time < times; time++) {
      const task = upTo(model.tasks)
      urgency[task] = urgency[upTo(model.tasks)]! + (random() < 0.5 ? 0.5 : -0.5)
      wanted[task] = anyone
    }
  }

  const changeWay: Move = ({ wanted }) => {
    const task = choosy[upTo(choosy.length)]!
    const first = model.ways.first[task]!
    const count = model.ways.first[task + 1]! - first
    wanted[task] = first + upTo(count)
  }

  return [
    moveBike,
    swapBikes,
    shiftBike,
    shiftBike,
    shiftBike,
    pullTask,
    pullTask,
    moveTask,
    moveTask,
    ...(choosy.length > 0 ? [changeWay] : []),
  ]
}
