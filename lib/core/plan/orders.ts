import type { Model } from './model'

/** Of each task the longest way from its start to the end of all, by durations alone. */
export function tails({ inTurn, succs, ways }: Model): Float64Array {
  const tail = new Float64Array(inTurn.length)
  for (let turn = inTurn.length - 1; turn >= 0; turn--) {
    const task = inTurn[turn]!
    let after = 0
    for (let at = succs.first[task]!; at < succs.first[task + 1]!; at++)
      after = Math.max(after, tail[succs.all[at]!]!)
    tail[task] = after + leastDuration(task, ways)
  }
  return tail
}

export function leastDuration(task: number, ways: Model['ways']): number {
  let least = Number.POSITIVE_INFINITY
  for (let way = ways.first[task]!; way < ways.first[task + 1]!; way++)
    least = Math.min(least, ways.duration[way]!)
  return least
}

/**
 * An order drawn at random with regard to urgency: of the tasks that may come next, one is drawn with chances by how
 * much worse it would be to leave it than the least urgent (regret-based biased sampling, Drexl 1991; Kolisch 1996).
 */
export class Sampler {
  private readonly model: Model
  private readonly open: Int32Array
  private readonly ready: Int32Array
  private readonly chance: Float64Array

  constructor(model: Model) {
    this.model = model
    this.open = new Int32Array(model.tasks)
    this.ready = new Int32Array(model.tasks)
    this.chance = new Float64Array(model.tasks)
  }

  /** The larger `urgency`, the sooner; `greed` 0 draws evenly, Infinity always takes the most urgent. */
  draw(order: Int32Array, { urgency, greed, random }: Draw): void {
    const { open, ready, chance } = this
    const { preds, succs, tasks } = this.model
    let count = 0
    for (let task = 0; task < tasks; task++) {
      open[task] = preds.first[task + 1]! - preds.first[task]!
      if (open[task] === 0) ready[count++] = task
    }
    for (let at = 0; at < tasks; at++) {
      const pick = greed === Number.POSITIVE_INFINITY ? most(ready, count, urgency) : drawn()
      const task = ready[pick]!
      ready[pick] = ready[--count]!
      order[at] = task
      for (let one = succs.first[task]!; one < succs.first[task + 1]!; one++) {
        const succ = succs.all[one]!
        open[succ]!--
        if (open[succ] === 0) ready[count++] = succ
      }
    }

    function drawn(): number {
      let least = Number.POSITIVE_INFINITY
      for (let at = 0; at < count; at++) least = Math.min(least, urgency[ready[at]!]!)
      let all = 0
      for (let at = 0; at < count; at++) {
        chance[at] = (urgency[ready[at]!]! - least + 1) ** greed
        all += chance[at]!
      }
      let left = random() * all
      for (let at = 0; at < count; at++) {
        left -= chance[at]!
        if (left < 0) return at
      }
      return count - 1
    }
  }
}

interface Draw {
  urgency: Float64Array
  greed: number
  random: () => number
}

function most(ready: Int32Array, count: number, urgency: Float64Array): number {
  let best = 0
  for (let at = 1; at < count; at++) {
    const more = urgency[ready[at]!]! - urgency[ready[best]!]!
    if (more > 0 || (more === 0 && ready[at]! < ready[best]!)) best = at
  }
  return best
}
