import { CalcProblem, type Path } from '../quantity/problem'
import { alwaysOpen, type Model, nobody } from './model'
import type { PlanInput } from './plan.input'
import { earliestInWay, earliestOf } from './windows'

/**
 * Ways in which the pinned tasks can stand together (−1 for all others). Refuses what no schedule can keep, whatever the order: a task that fits in no open time, a pin before its turn, in
 * a closed time, or against other pins.
 * @throws CalcProblem at the task or the pin
 */
export function refuseImpossible(model: Model, input: PlanInput): Int32Array {
  const earliest = earliestOf(model)
  for (const task of model.inTurn) {
    refuseUnbroken(model, { input, task })
    const pin = model.pinned[task]!
    if (pin >= 0 && pin < readyFor(model, { task, finish: earliest.finish }))
      throw pinProblem(model, { task, why: 'what it comes after cannot be done by then' })
    if (pin >= 0 && !waysAt(model, { task, pin }).length)
      throw pinProblem(model, { task, why: 'it would have to stop before it is done, or start while closed' })
    if (earliest.finish[task] === Number.POSITIVE_INFINITY)
      throw new CalcProblem(`The open times end before ${model.ids[task]} can be done.`, {
        path: [...pathOf(input, task), 'clock'],
        hint: 'Add open times to its calendar, or to those of what it uses.',
      })
  }
  return pinsTogether(model)
}

/** No schedule was found though nothing alone forbids one. */
export function nothingFits({ pinned, ids }: Model): CalcProblem {
  const pins = ids.filter((_, task) => pinned[task]! >= 0)
  return pins.length > 0
    ? new CalcProblem(`No plan was found that keeps what is pinned: ${pins.join(', ')}.`, {
        path: ['fixed', pins[0]!],
        hint: 'Pin later what has to wait for others, or take a pin away.',
      })
    : new CalcProblem('No plan was found that gets all done in the open times.', {
        path: ['calendars'],
        hint: 'Add open times at the end of the calendars, or look for holds that wait for each other.',
      })
}

function refuseUnbroken({ ways, pausable, clocks, ids }: Model, { input, task }: At): void {
  if (pausable[task] === 1) return
  let most = 0
  for (let way = ways.first[task]!; way < ways.first[task + 1]!; way++) {
    const longest =
      ways.clock[way] === alwaysOpen ? Number.POSITIVE_INFINITY : clocks[ways.clock[way]!]!.longest()
    if (ways.duration[way]! <= longest) return
    most = Math.max(most, longest)
  }
  throw new CalcProblem(
    `${ids[task]} is not pausable and longer than any open time; the longest is ${most}.`,
    {
      path: [...pathOf(input, task), 'duration'],
      hint: 'Let it be pausable, or split it.',
    },
  )
}

function readyFor({ preds }: Model, { task, finish }: { task: number; finish: Float64Array }): number {
  let ready = 0
  for (let at = preds.first[task]!; at < preds.first[task + 1]!; at++)
    ready = Math.max(ready, finish[preds.all[at]!]!)
  return ready
}

/** The ways in which a task can start at that very time. */
function waysAt(
  model: Model,
  { task, pin }: { task: number; pin: number },
): { way: number; finish: number }[] {
  const { ways } = model
  const found: { way: number; finish: number }[] = []
  for (let way = ways.first[task]!; way < ways.first[task + 1]!; way++) {
    const { start, finish } = earliestInWay(model, { task, way, from: pin })
    if (start === pin) found.push({ way, finish })
  }
  return found
}

/**
 * The pins among themselves: in the order of their starts each in some way, so that no resource is asked for twice.
 * What the tasks of one bike may share through a hold is left aside here.
 */
function pinsTogether(model: Model): Int32Array {
  const pins = model.ids.flatMap((_, task) => (model.pinned[task]! >= 0 ? [task] : []))
  pins.sort((a, b) => model.pinned[a]! - model.pinned[b]! || a - b)
  const chosen: { task: number; way: number; finish: number }[] = []
  let deepest = 0
  const settle = (at: number): boolean => {
    if (at === pins.length) return true
    const task = pins[at]!
    deepest = Math.max(deepest, at)
    for (const { way, finish } of waysAt(model, { task, pin: model.pinned[task]! })) {
      chosen.push({ task, way, finish })
      if (keepsOrder(at) && hasRoom() && settle(at + 1)) return true
      chosen.pop()
    }
    return false
  }
  const keepsOrder = (at: number): boolean => {
    const { task } = chosen[at]!
    const before = model.preds.all.subarray(model.preds.first[task]!, model.preds.first[task + 1]!)
    return chosen.every((one) => !before.includes(one.task) || one.finish <= model.pinned[task]!)
  }
  const hasRoom = (): boolean => {
    const last = chosen.at(-1)!
    if (last.finish === model.pinned[last.task]!) return true
    const now = model.pinned[last.task]!
    const taken = new Map<number, number>()
    for (const { task, way, finish } of chosen) {
      if (finish <= now) continue
      for (const { resource, amount } of takenBy(model, { task, way })) {
        if (model.holds.some((hold) => hold.bike === model.bikeOf[task] && hold.resource === resource))
          continue
        taken.set(resource, (taken.get(resource) ?? 0) + amount)
      }
    }
    return [...taken].every(([resource, amount]) => amount <= model.capacity[resource]!)
  }
  if (!settle(0))
    throw pinProblem(model, {
      task: pins[deepest]!,
      why: 'other pins take what it needs, or end too late for it',
    })
  const ways = new Int32Array(model.tasks).fill(-1)
  for (const { task, way } of chosen) ways[task] = way
  return ways
}

function takenBy(
  { needs, ways }: Model,
  { task, way }: { task: number; way: number },
): { resource: number; amount: number }[] {
  const taken: { resource: number; amount: number }[] = []
  for (let at = needs.first[task]!; at < needs.first[task + 1]!; at++)
    taken.push({ resource: needs.all[at]!, amount: needs.amount[at]! })
  if (ways.person[way] !== nobody) taken.push({ resource: ways.person[way]!, amount: 1 })
  return taken
}

function pinProblem(model: Model, { task, why }: { task: number; why: string }): CalcProblem {
  const id = model.ids[task]!
  return new CalcProblem(`${id} cannot start at ${model.pinned[task]}: ${why}.`, {
    path: ['fixed', id, 'start'],
    hint: 'Pin it to another time, or take the pin away.',
  })
}

interface At {
  input: PlanInput
  task: number
}

function pathOf(input: PlanInput, task: number): Path {
  let left = task
  for (const [bike, { tasks }] of input.bikes.entries()) {
    if (left < tasks.length) return ['bikes', bike, 'tasks', left]
    left -= tasks.length
  }
  return ['bikes']
}
