import type { Model } from './model'
import type { Given, Scheduler } from './scheduler'

/**
 * Parallel schedule generation (Brooks and White 1965; Kolisch 1996): time goes on, and of the tasks that can start
 * the most urgent is placed first. A task's earliest start only grows while others are placed, so what was found for
 * it earlier is looked at again only when its turn seems to have come. Whether all could be placed.
 */
export function parallel(
  model: Model,
  { scheduler, urgency, given }: { scheduler: Scheduler; urgency: Float64Array; given: Given },
): boolean {
  const { preds, succs, tasks } = model
  const open = new Int32Array(tasks)
  const earliest = new Float64Array(tasks)
  return scheduler.run(model.inTurn, given, inTime)

  function inTime(): boolean {
    const ready: number[] = []
    earliest.fill(0)
    for (let task = 0; task < tasks; task++) {
      open[task] = preds.first[task + 1]! - preds.first[task]!
      if (open[task] === 0) ready.push(task)
    }
    let { closed } = scheduler
    while (ready.length > 0) {
      const at = nextOf(ready)
      const task = ready[at]!
      if (scheduler.placed[task] === 0) {
        const now = scheduler.earliest(task)
        if (now > earliest[task]!) {
          earliest[task] = now
          continue
        }
        if (!scheduler.placeInTurn(task)) return false
      }
      if (scheduler.closed > closed) {
        closed = scheduler.closed
        earliest.fill(0)
      }
      ready[at] = ready.at(-1)!
      ready.pop()
      for (let one = succs.first[task]!; one < succs.first[task + 1]!; one++) {
        const succ = succs.all[one]!
        open[succ]!--
        if (open[succ]! > 0) continue
        ready.push(succ)
      }
    }
    return true
  }

  function nextOf(list: readonly number[]): number {
    let best = 0
    for (let at = 1; at < list.length; at++) {
      const here = earliest[list[at]!]!
      const before = earliest[list[best]!]!
      if (here < before || (here === before && urgency[list[at]!]! > urgency[list[best]!]!)) best = at
    }
    return best
  }
}
