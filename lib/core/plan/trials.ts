import { slackOf } from './bound'
import { costOf, readyTimes } from './cost'
import type { Model } from './model'
import { parallel } from './parallel'
import { type Given, Scheduler } from './scheduler'
import { sideOf } from './side'

/** As time runs on, or back from the end. */
export type Direction = 'on' | 'back'

export interface Found {
  cost: number
  start: Float64Array
  finish: Float64Array
  way: Int32Array
}

export interface Firmer {
  after: number
  bound(below: number): number
}

/** Added for a schedule whose pins do not hold or that leaves a task out, so that any that stands is better. */
const outOfOrder = 1e18

/**
 * The schedules that a search makes: it counts them, keeps the best, and improves by passing back and forth (double
 * justification: Li and Willis 1992; Valls, Ballestín and Quintanilla 2005). Backward every task moves as late as
 * its bike's ready time allows, which opens room early; forward all moves into it, and no bike is ready later.
 */
export class Trials {
  readonly model: Model
  made = 0
  best: Found | null = null
  /** Cost, starts, finishes and ways of the last schedule. */
  cost = Number.POSITIVE_INFINITY
  readonly forward: Scheduler
  private readonly backward: Scheduler
  /** Schedules that may be made at most. */
  most: number
  bound: number
  /** What raises the bound once so many schedules are made, knowing a cost that was reached. */
  private firmer: Firmer | null
  private readonly keys: Float64Array
  private readonly order: Int32Array
  private readonly releaseBack: Float64Array
  private readonly pinnedBack: Float64Array
  private readonly wayBack: Int32Array

  constructor(
    model: Model,
    { most, bound, firmer = null }: { most: number; bound: number; firmer?: Firmer | null },
  ) {
    this.model = model
    this.most = most
    this.bound = bound
    this.firmer = firmer
    this.forward = new Scheduler(sideOf(model, 'on'))
    this.backward = new Scheduler(sideOf(model, 'back'))
    this.keys = new Float64Array(model.tasks)
    this.order = new Int32Array(model.tasks)
    this.releaseBack = new Float64Array(model.tasks)
    this.pinnedBack = new Float64Array(model.tasks)
    this.wayBack = new Int32Array(model.tasks)
  }

  /** Whether there is no more to do: nothing better can be, or no schedule is left to make. */
  get over(): boolean {
    return this.made >= this.most || this.isMet
  }

  /** Whether nothing better can be. */
  get isMet(): boolean {
    if (this.best === null) return false
    const { cost } = this.best
    return cost <= this.bound || (!Number.isInteger(this.bound) && cost <= this.bound + slackOf(this.bound))
  }

  /** Makes the schedule of an order and gives its cost. */
  pass(order: Int32Array, wanted: Int32Array | null): number {
    const { model, forward } = this
    const given: Given = { release: model.release, pinned: model.pinned, wanted }
    const all = forward.run(order, given)
    return this.told(all)
  }

  /** Makes the schedule in which, as time goes on, the most urgent goes first. */
  parallel(urgency: Float64Array): number {
    const { model, forward } = this
    const given: Given = { release: model.release, pinned: model.pinned, wanted: null }
    return this.told(parallel(model, { scheduler: forward, urgency, given }))
  }

  /** Judges what stands in `forward`. */
  private told(complete: boolean): number {
    const { model, forward } = this
    this.count()
    if (!complete) {
      const left = forward.placed.reduce((count, placed) => count - placed, model.tasks)
      this.cost = outOfOrder * (1 + left)
      return this.cost
    }
    const cost = costOf(model, readyTimes(model, forward.finish))
    this.cost = forward.lateness > 0 ? outOfOrder + forward.lateness : cost
    if (forward.lateness === 0 && (this.best === null || cost < this.best.cost)) this.keep(cost)
    return this.cost
  }

  /** Takes a schedule made elsewhere. */
  take(found: Found): void {
    this.count()
    if (this.best === null || found.cost < this.best.cost) this.best = found
  }

  /** Back and forth from the last schedule; its cost afterwards. */
  justify(): number {
    if (this.cost >= outOfOrder || this.over) return this.cost
    const { model, forward, backward, keys, order } = this
    const { horizon } = model
    const ready = readyTimes(model, forward.finish)
    const last = ready.reduce((most, one) => Math.max(most, one), 0)
    for (let task = 0; task < model.tasks; task++) {
      const due = model.objective === 'makespan' ? last : ready[model.bikeOf[task]!]!
      const isPinned = model.pinned[task]! >= 0
      this.pinnedBack[task] = isPinned ? horizon - forward.finish[task]! : -1
      this.releaseBack[task] = isPinned ? 0 : horizon - due
      this.wayBack[task] = forward.way[task]!
      keys[task] = -forward.finish[task]!
    }
    this.sort(-1)
    this.count()
    const given = { release: this.releaseBack, pinned: this.pinnedBack, wanted: this.wayBack }
    if (!backward.run(order, given) || backward.lateness > 0 || this.over) return this.cost
    for (let task = 0; task < model.tasks; task++) keys[task] = -backward.finish[task]!
    this.sort(1)
    return this.pass(order, this.wayBack)
  }

  /**
   * Makes the schedule of an order, forward or backward, and gives its length. The order becomes that of its ends as
   * seen from its side, which leads to the same schedule again and, read from behind, to a good one from the other.
   */
  lengthOf(order: Int32Array, direction: Direction): number {
    const { backward, forward, keys, model } = this
    if (direction === 'on') {
      const cost = this.pass(order, null)
      if (cost >= outOfOrder) return cost
    } else {
      this.count()
      this.releaseBack.fill(0)
      this.pinnedBack.fill(-1)
      const given = { release: this.releaseBack, pinned: this.pinnedBack, wanted: null }
      if (!backward.run(order, given)) return outOfOrder
    }
    const { finish } = direction === 'on' ? forward : backward
    let length = 0
    for (let task = 0; task < model.tasks; task++) length = Math.max(length, finish[task]!)
    keys.set(finish)
    this.sort(direction === 'on' ? 1 : -1)
    order.set(this.order)
    return length
  }

  /** The last schedule as an order: by start, each behind what it comes after. */
  orderInto(order: Int32Array): void {
    this.keys.set(this.forward.start)
    this.sort(1)
    order.set(this.order)
  }

  private sort(direction: 1 | -1): void {
    const { keys, order } = this
    const { inTurn, turnOf } = this.model
    order.set(inTurn)
    order.sort((a, b) => keys[a]! - keys[b]! || direction * (turnOf[a]! - turnOf[b]!))
  }

  private count(): void {
    this.made++
    if (this.firmer === null || this.made < this.firmer.after || this.best === null) return
    this.bound = Math.max(this.bound, this.firmer.bound(this.best.cost))
    this.firmer = null
  }

  private keep(cost: number): void {
    const { start, finish, way } = this.forward
    this.best = { cost, start: start.slice(), finish: finish.slice(), way: way.slice() }
  }
}
