import { alwaysOpen, type Model } from './model'

/** When a task that may not start before `from` starts and ends at the earliest in one of its ways, all else free. */
export function earliestInWay(
  model: Model,
  { task, way, from }: { task: number; way: number; from: number },
): { start: number; finish: number } {
  const duration = model.ways.duration[way]!
  const clock = model.ways.clock[way]!
  if (clock === alwaysOpen) return { start: from, finish: from + duration }
  const open = model.clocks[clock]!
  if (model.pausable[task] === 0) {
    const start = open.startUnbroken(from, duration)
    return { start, finish: start + duration }
  }
  const start = open.startPausable(from, duration)
  const finish = open.endPausable(start, duration)
  return { start: finish === Number.POSITIVE_INFINITY ? finish : start, finish }
}

/** The earliest start and finish of every task, by what it comes after, releases, calendars and pins alone. */
export function earliestOf(model: Model): { start: Float64Array; finish: Float64Array } {
  const start = new Float64Array(model.tasks)
  const finish = new Float64Array(model.tasks)
  const { preds, ways } = model
  for (const task of model.inTurn) {
    let from = Math.max(model.release[task]!, model.pinned[task]!)
    for (let at = preds.first[task]!; at < preds.first[task + 1]!; at++)
      from = Math.max(from, finish[preds.all[at]!]!)
    start[task] = Number.POSITIVE_INFINITY
    finish[task] = Number.POSITIVE_INFINITY
    for (let way = ways.first[task]!; way < ways.first[task + 1]!; way++) {
      const one = earliestInWay(model, { task, way, from })
      start[task] = Math.min(start[task]!, one.start)
      finish[task] = Math.min(finish[task]!, one.finish)
    }
  }
  return { start, finish }
}
