import type { PlanInput } from '../../lib/core/plan/plan.input'
import { brokenIn, endOf } from './plan-checker'

type Task = PlanInput['bikes'][number]['tasks'][number]

/** Starts tried at most. */
const most = 30_000

/**
 * Whether any plan costs less than `objective`, by trying every start of every task by everyone who may do it, as long
 * as the ready times reached cost less. Only for few tasks. `null` where that would take too long.
 */
export function hasCheaperPlan(input: PlanInput, objective: number): boolean | null {
  const all = inTurn(input.bikes.flatMap((bike, at) => bike.tasks.map((task) => ({ task, bike: at }))))
  const ready = input.bikes.map(({ release }) => release)
  const runs: { task: Task; bike: number; from: number; to: number; who: string | undefined }[] = []
  let tried = 0

  const cost = () =>
    input.objective === 'makespan'
      ? Math.max(0, ...ready)
      : input.bikes.reduce(
          (sum, { weight, due, latePerUnit }, at) =>
            sum +
            weight * ready[at]! +
            latePerUnit * Math.max(0, ready[at]! - (due ?? Number.POSITIVE_INFINITY)),
          0,
        )
  const latest = lastThatMatters(input)

  const settle = (at: number): boolean => {
    if (at === all.length) {
      if (cost() >= objective) return false
      const starts = Object.fromEntries(runs.map(({ task, from }) => [task.id, from]))
      const by = Object.fromEntries(
        runs.flatMap(({ task, who }) => (who === undefined ? [] : [[task.id, who]])),
      )
      return brokenIn(input, { starts, by }).length === 0
    }
    const { task, bike } = all[at]!
    const earliest = Math.max(
      task.release,
      input.bikes[bike]!.release,
      ...runs.flatMap((run) => (task.after.includes(run.task.id) ? [run.to] : [])),
    )
    const before = ready[bike]!
    const pin = Object.hasOwn(input.fixed, task.id) ? input.fixed[task.id]!.start : undefined
    for (const who of task.by ?? [undefined]) {
      for (let from = pin ?? earliest; from <= (pin ?? latest); from++) {
        if (++tried > most) return false
        const to = endOf(input, { task, who, from })
        if (to === null) continue
        ready[bike] = Math.max(before, to)
        if (cost() >= objective) {
          ready[bike] = before
          // A later start of the same task ends no earlier.
          break
        }
        runs.push({ task, bike, from, to, who })
        const found = roomFor(input, runs) && settle(at + 1)
        runs.pop()
        ready[bike] = before
        if (found) return true
      }
    }
    return false
  }
  const found = settle(0)
  return tried > most && !found ? null : found
}

function lastThatMatters(input: PlanInput): number {
  const tasks = input.bikes.flatMap(({ tasks }) => tasks)
  const closes = Object.values(input.calendars).flatMap((times) => times.map(([, to]) => to))
  const releases = [...tasks, ...input.bikes].map(({ release }) => release)
  const pins = Object.values(input.fixed).map(({ start }) => start ?? 0)
  return (
    Math.max(0, ...closes, ...releases, ...pins) + tasks.reduce((sum, { duration }) => sum + 2 * duration, 0)
  )
}

function inTurn<T extends { task: Task }>(all: readonly T[]): T[] {
  const turned: T[] = []
  while (turned.length < all.length) {
    const known = new Set(turned.map(({ task }) => task.id))
    turned.push(all.find(({ task }) => !known.has(task.id) && task.after.every((id) => known.has(id)))!)
  }
  return turned
}

/** At the moment the last of the runs stands in, every moment of it: what the tasks take at least, holds left aside. */
function roomFor(
  input: PlanInput,
  runs: readonly { task: Task; bike: number; from: number; to: number; who: string | undefined }[],
): boolean {
  const last = runs.at(-1)!
  for (let time = last.from; time < last.to; time++) {
    for (const [name, resource] of Object.entries(input.resources)) {
      const wants = input.bikes.map(({ holds }, bike) => {
        const each = runs
          .filter((run) => run.bike === bike && run.from <= time && time < run.to)
          .map(({ task, who }) => (task.uses[name] ?? 0) + (who === name ? 1 : 0))
        // What is held may be shared; then together they take at least what one of them does.
        return holds.some((hold) => hold.resource === name)
          ? Math.max(0, ...each)
          : each.reduce((sum, one) => sum + one, 0)
      })
      const capacity = typeof resource === 'number' ? resource : resource.capacity
      if (wants.reduce((sum, one) => sum + one, 0) > capacity) return false
    }
  }
  return true
}
