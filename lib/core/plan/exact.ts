import { costOf, readyTimes } from './cost'
import type { Model } from './model'
import { sideOf } from './side'
import type { Found } from './trials'
import { earliestInWay } from './windows'

const never = Number.POSITIVE_INFINITY

export interface Asked {
  /** Only what costs less is of interest. */
  below: number
  /** Given up after so many tasks have been placed. */
  nodes: number
  /** Told of each better schedule; false stops the search. */
  better: (found: Found) => boolean
}

/**
 * Every plan worth looking at, by branch and bound: tasks in every order of their starts and in every way, each as
 * early as the ones before allow, so long as the bikes' earliest ready times promise less than the best so far. Where
 * tasks are in the order of their starts, a resource need be looked at only when a task starts: nothing is taken later
 * but by a later start. Whether all was looked at, so that nothing better is left.
 */
export function searchAll(model: Model, { below, nodes, better }: Asked): boolean {
  const { tasks, preds, ways, pinned, needs, bikeOf, capacity, holds } = model
  const start = new Float64Array(tasks)
  const finish = new Float64Array(tasks)
  const way = new Int32Array(tasks)
  const placed = new Uint8Array(tasks)
  const promised = new Float64Array(tasks)
  // Two tasks that share a held unit may each want one of its own when it is given back; then earlier is not always
  // better, and every start is tried.
  const anyStart = sideOf(model, 'on').holds.some(({ sharers }) => sharers.length > 1)
  let best = below
  let left = nodes
  return visit(0, 0)

  function visit(count: number, now: number): boolean {
    if (count === tasks) return leaf()
    for (let task = 0; task < tasks; task++) {
      if (placed[task] === 1 || !mayStart(task)) continue
      for (let one = ways.first[task]!; one < ways.first[task + 1]!; one++)
        if (!visitStarts({ task, one, count, now })) return false
    }
    return true
  }

  function visitStarts({ task, one, count, now }: Step): boolean {
    way[task] = one
    placed[task] = 1
    let from = Math.max(now, model.release[task]!, readyFor(task))
    for (;;) {
      if (!settleStart(task, from)) break
      if (left-- <= 0) return false
      if (promise(start[task]!) >= best) break
      if (!visit(count + 1, start[task]!)) return false
      way[task] = one
      placed[task] = 1
      if (!anyStart || pinned[task]! >= 0) break
      from = start[task]! + 1
    }
    placed[task] = 0
    return true
  }

  function leaf(): boolean {
    if (anyStart && !hasRoomThroughout()) return true
    const cost = costOf(model, readyTimes(model, finish))
    if (cost >= best) return true
    best = cost
    return better({ cost, start: start.slice(), finish: finish.slice(), way: way.slice() })
  }

  function mayStart(task: number): boolean {
    for (let at = preds.first[task]!; at < preds.first[task + 1]!; at++)
      if (placed[preds.all[at]!] === 0) return false
    return true
  }

  function readyFor(task: number): number {
    let ready = 0
    for (let at = preds.first[task]!; at < preds.first[task + 1]!; at++)
      ready = Math.max(ready, finish[preds.all[at]!]!)
    return ready
  }

  /** The first start from `from` on with room at that moment; false where there is none. */
  function settleStart(task: number, from: number): boolean {
    const pin = pinned[task]!
    if (pin >= 0 && pin < from) return false
    for (let at = Math.max(from, pin); ; ) {
      const found = earliestInWay(model, { task, way: way[task]!, from: at })
      if (found.start === never || (pin >= 0 && found.start > pin)) return false
      start[task] = found.start
      finish[task] = found.finish
      if (hasRoomAt(found.start)) return true
      at = nextEnd(task, found.start)
      if (at === never) return false
    }
  }

  /** When next a task ends that is running at `time`. */
  function nextEnd(task: number, time: number): number {
    let next = never
    for (let other = 0; other < tasks; other++)
      if (other !== task && placed[other] === 1 && finish[other]! > time)
        next = Math.min(next, finish[other]!)
    return next
  }

  function hasRoomAt(time: number): boolean {
    for (let resource = 0; resource < capacity.length; resource++)
      if (takenAt(resource, time) > capacity[resource]!) return false
    return true
  }

  function takenAt(resource: number, time: number): number {
    let taken = 0
    for (let task = 0; task < tasks; task++) {
      if (placed[task] === 0 || start[task]! > time || finish[task]! <= time) continue
      let wants = ways.person[way[task]!] === resource ? 1 : 0
      for (let at = needs.first[task]!; at < needs.first[task + 1]!; at++)
        if (needs.all[at] === resource) wants += needs.amount[at]!
      taken += wants > 0 && isHeld(bikeOf[task]!, resource, time) ? wants - 1 : wants
    }
    for (let at = 0; at < holds.length; at++) {
      const { bike, resource: held } = holds[at]!
      if (held !== resource || !isOn(at, time)) continue
      // Several holds of a bike on one resource share their unit: the first of them counts.
      if (
        !holds.some(
          (other, before) =>
            before < at && other.bike === bike && other.resource === held && isOn(before, time),
        )
      )
        taken++
    }
    return taken
  }

  function isHeld(bike: number, resource: number, time: number): boolean {
    for (let at = 0; at < holds.length; at++)
      if (holds[at]!.bike === bike && holds[at]!.resource === resource && isOn(at, time)) return true
    return false
  }

  /** A hold whose last task is not placed yet goes on. */
  function isOn(hold: number, time: number): boolean {
    const { from, to } = holds[hold]!
    return placed[from] === 1 && start[from]! <= time && (placed[to] === 0 || time < finish[to]!)
  }

  function hasRoomThroughout(): boolean {
    for (let task = 0; task < tasks; task++)
      if (!hasRoomAt(start[task]!) || !hasRoomAt(finish[task]!)) return false
    return true
  }

  /** What the plan costs at least: every task still to come no sooner than now, nothing waited for but what it must. */
  function promise(now: number): number {
    for (let turn = 0; turn < tasks; turn++) {
      const task = model.inTurn[turn]!
      if (placed[task] === 1) {
        promised[task] = finish[task]!
        continue
      }
      let from = Math.max(now, model.release[task]!, pinned[task]!)
      for (let at = preds.first[task]!; at < preds.first[task + 1]!; at++)
        from = Math.max(from, promised[preds.all[at]!]!)
      let soonest = never
      for (let one = ways.first[task]!; one < ways.first[task + 1]!; one++)
        soonest = Math.min(soonest, earliestInWay(model, { task, way: one, from }).finish)
      promised[task] = soonest
    }
    return costOf(model, readyTimes(model, promised))
  }
}

interface Step {
  task: number
  one: number
  count: number
  now: number
}
