import { expect } from 'vitest'
import type { Plan } from '../../lib/core/plan/plan'
import type { PlanInput } from '../../lib/core/plan/plan.input'

/**
 * Whether a plan keeps all its input says, looked at time unit by time unit with plain objects; nothing of the
 * calculation is used. Answers what is broken, in words.
 */
export function brokenIn(input: PlanInput, plan: Pick<Plan, 'starts' | 'by'>): string[] {
  const broken: string[] = []
  const say = (yes: boolean, what: string) => {
    if (yes) broken.push(what)
  }
  const all = input.bikes.flatMap((bike) => bike.tasks.map((task) => ({ bike, task })))
  const runs = new Map<string, { from: number; to: number }>()
  for (const { task } of all) {
    const from = plan.starts[task.id]!
    const who = plan.by?.[task.id]
    say(!Number.isInteger(from), `${task.id} has no start`)
    say(task.by !== undefined && !task.by.includes(who ?? ''), `${task.id} is done by ${who}`)
    say(task.by === undefined && who !== undefined, `${task.id} is done by ${who} unasked`)
    const open = openFor(input, { task, who })
    let left = durationOf(input, { task, who })
    let at = from
    say(!mayStart(open, { at, left }), `${task.id} starts while closed`)
    while (left > 0 && at < from + 100_000) {
      if (open(at)) left--
      else say(!task.pausable, `${task.id} runs at ${at} while closed`)
      at++
    }
    say(left > 0, `${task.id} never ends`)
    runs.set(task.id, { from, to: at })
  }
  for (const { bike, task } of all) {
    const { from } = runs.get(task.id)!
    say(from < task.release || from < bike.release, `${task.id} starts before its release`)
    for (const before of task.after)
      say(runs.get(before)!.to > from, `${task.id} starts before ${before} ends`)
    const pin = Object.hasOwn(input.fixed, task.id) ? input.fixed[task.id]! : {}
    say(pin.start !== undefined && pin.start !== from, `${task.id} is pinned to ${pin.start}`)
    say(pin.by !== undefined && pin.by !== plan.by?.[task.id], `${task.id} is pinned to ${pin.by}`)
  }
  const last = Math.max(0, ...[...runs.values()].map(({ to }) => to))
  for (const [name, resource] of Object.entries(input.resources)) {
    const capacity = typeof resource === 'number' ? resource : resource.capacity
    for (let time = 0; time < last; time++) {
      let taken = 0
      for (const bike of input.bikes) {
        const isHeld = bike.holds.some(
          (hold) =>
            hold.resource === name && runs.get(hold.from)!.from <= time && time < runs.get(hold.to)!.to,
        )
        taken += isHeld ? 1 : 0
        for (const task of bike.tasks) {
          const { from, to } = runs.get(task.id)!
          if (time < from || time >= to) continue
          const wants =
            (Object.hasOwn(task.uses, name) ? task.uses[name]! : 0) + (plan.by?.[task.id] === name ? 1 : 0)
          taken += isHeld && wants > 0 ? wants - 1 : wants
        }
      }
      say(taken > capacity, `${taken} of ${capacity} ${name} at ${time}`)
    }
  }
  return broken
}

/** The ready times and the objective that the starts lead to. */
export function reckoned(
  input: PlanInput,
  plan: Pick<Plan, 'starts' | 'by'>,
): { ready: number[]; objective: number } {
  const ready = input.bikes.map(({ tasks, release }) =>
    Math.max(
      release,
      ...tasks.map((task) => {
        const who = plan.by?.[task.id]
        const open = openFor(input, { task, who })
        let at = plan.starts[task.id]!
        for (let left = durationOf(input, { task, who }); left > 0; at++) if (open(at)) left--
        return at
      }),
    ),
  )
  const costs = input.bikes.map(
    ({ weight, due, latePerUnit }, at) =>
      weight * ready[at]! + latePerUnit * Math.max(0, ready[at]! - (due ?? Number.POSITIVE_INFINITY)),
  )
  const objective =
    input.objective === 'makespan' ? Math.max(0, ...ready) : costs.reduce((sum, cost) => sum + cost, 0)
  return { ready, objective }
}

/** A plan keeps its input, tells its own objective rightly, and claims no bound above it. */
export function expectKept(input: PlanInput, plan: Plan): void {
  expect(brokenIn(input, plan)).toEqual([])
  const { ready, objective } = reckoned(input, plan)
  expect(Object.values(plan.ready)).toEqual(ready)
  expect(plan.objective).toBeCloseTo(objective, 6)
  expect(plan.lowerBound).toBeLessThanOrEqual(plan.objective + 1e-6)
  expect(plan.schedules).toBeLessThanOrEqual(input.effort)
}

/** When a task that starts at `from` has had its time; null where it may not start there or would have to stop. */
export function endOf(
  input: PlanInput,
  { task, who, from }: { task: Task; who: string | undefined; from: number },
): number | null {
  const open = openFor(input, { task, who })
  let left = durationOf(input, { task, who })
  if (!mayStart(open, { at: from, left })) return null
  let at = from
  for (; left > 0; at++) {
    if (open(at)) left--
    else if (!task.pausable) return null
    if (at > from + 1000) return null
  }
  return at
}

type Task = PlanInput['bikes'][number]['tasks'][number]

/** Work that takes no time stands in an open time or at its close. */
function mayStart(open: (time: number) => boolean, { at, left }: { at: number; left: number }): boolean {
  return open(at) || (left === 0 && open(at - 1))
}

function durationOf(input: PlanInput, { task, who }: { task: Task; who: string | undefined }): number {
  const pace = who !== undefined && Object.hasOwn(input.pace, who) ? input.pace[who]! : 1
  return Math.ceil(task.duration * pace - 1e-9)
}

function openFor(
  input: PlanInput,
  { task, who }: { task: Task; who: string | undefined },
): (time: number) => boolean {
  const used = Object.keys(task.uses).filter((name) => task.uses[name]! > 0)
  const clocks = [...used, ...(who === undefined ? [] : [who])].map((name) => {
    const resource = input.resources[name]!
    return typeof resource === 'number' ? undefined : resource.clock
  })
  const times = [task.clock, ...clocks].flatMap((clock) =>
    clock === undefined ? [] : [input.calendars[clock]!],
  )
  return (time) => times.every((open) => open.some(([from, to]) => from <= time && time < to))
}
