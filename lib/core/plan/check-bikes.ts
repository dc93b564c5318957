import type { Problem } from '../work/operations.input'
import { faultInNeeds } from '../work/union'
import { capacityOf, checkClock } from './check-resources'

interface Task {
  id: string
  uses: Record<string, number>
  by?: string[]
  after: string[]
  release: number
  clock?: string
}

interface Bike {
  id: string
  release: number
  tasks: Task[]
  holds: { resource: string; from: string; to: string }[]
}

interface Checked {
  resources: Record<string, number | { capacity: number; clock?: string }>
  calendars: Record<string, [number, number][]>
  bikes: Bike[]
  fixed: Record<string, { start?: number; by?: string }>
}

interface Place {
  bike: Bike
  task: Task
  path: PropertyKey[]
}

const unknownResource = 'Add it to resources, or correct the name.'
const unknownTask = 'Add it to the tasks of a bike, or correct the id.'

/** What tasks, holds and pins name must be there and have room; tasks must not wait for each other in a ring. */
export function checkBikes(input: Checked, problem: Problem): void {
  const tasks = placesOf(input, problem)
  for (const place of tasks.values()) {
    checkUses(input, { place, problem })
    checkBy(input, { place, problem })
    const { task, path } = place
    if (task.clock !== undefined) checkClock(task.clock, { input, path: [...path, 'clock'], problem })
  }
  const waitsRight = checkAfter(tasks, problem)
  input.bikes.forEach((bike, at) => {
    checkHolds(bike, { input, tasks, path: ['bikes', at, 'holds'], waitsRight, problem })
  })
  checkPins(input, { tasks, problem })
}

function placesOf({ bikes }: Checked, problem: Problem): Map<string, Place> {
  const ids = new Set<string>()
  const places = new Map<string, Place>()
  bikes.forEach((bike, at) => {
    const path = ['bikes', at]
    if (ids.has(bike.id))
      problem([...path, 'id'], `The bike ${bike.id} stands twice.`, 'Give each its own id.')
    ids.add(bike.id)
    bike.tasks.forEach((task, place) => {
      const here = [...path, 'tasks', place]
      if (places.has(task.id)) {
        const hint = 'Give each task its own id, over all bikes: any bike may name it.'
        problem([...here, 'id'], `The task ${task.id} stands twice.`, hint)
      } else places.set(task.id, { bike, task, path: here })
    })
  })
  return places
}

function checkUses({ resources }: Checked, { place, problem }: { place: Place; problem: Problem }): void {
  for (const [name, amount] of Object.entries(place.task.uses)) {
    const path = [...place.path, 'uses', name]
    if (!Object.hasOwn(resources, name)) problem(path, `There is no resource ${name}.`, unknownResource)
    else if (amount > capacityOf(resources[name]!)) {
      const there = capacityOf(resources[name]!)
      problem(path, `${place.task.id} needs ${amount} of ${name}; there is ${there}.`, 'Ask for no more.')
    }
  }
}

function checkBy({ resources }: Checked, { place, problem }: { place: Place; problem: Problem }): void {
  const { by = [], uses, id } = place.task
  by.forEach((name, at) => {
    const path = [...place.path, 'by', at]
    if (!Object.hasOwn(resources, name)) problem(path, `There is no resource ${name}.`, unknownResource)
    else if (capacityOf(resources[name]!) !== 1)
      problem(path, `${name} is not one alone.`, 'Name resources of capacity 1, one for each person.')
    else if (Object.hasOwn(uses, name) && uses[name]! > 0)
      problem(path, `${id} uses ${name} already.`, 'Name it under by or under uses, not both.')
    if (by.indexOf(name) < at) problem(path, `${name} stands twice.`, 'Name each once.')
  })
}

function checkAfter(tasks: ReadonlyMap<string, Place>, problem: Problem): boolean {
  const fault = faultInNeeds(new Map([...tasks].map(([id, { task }]) => [id, { needs: task.after }])))
  if (!fault) return true
  const path = [...tasks.get(fault.operation)!.path, 'after', fault.at]
  if (fault.kind === 'unknown') problem(path, `There is no task ${fault.name}.`, unknownTask)
  else {
    const ring = fault.names.join(' → ')
    problem(path, `These tasks wait for each other in a ring: ${ring}.`, 'Take one of these out.')
  }
  return false
}

interface HoldsAt {
  input: Checked
  tasks: ReadonlyMap<string, Place>
  path: PropertyKey[]
  waitsRight: boolean
  problem: Problem
}

function checkHolds(bike: Bike, { input, tasks, path, waitsRight, problem }: HoldsAt): void {
  bike.holds.forEach(({ resource, from, to }, at) => {
    const here = [...path, at]
    if (!Object.hasOwn(input.resources, resource))
      problem([...here, 'resource'], `There is no resource ${resource}.`, unknownResource)
    else if (capacityOf(input.resources[resource]!) < 1)
      problem([...here, 'resource'], `There is no ${resource} to hold.`, 'Give it a capacity of 1 or more.')
    for (const [end, id] of [
      ['from', from],
      ['to', to],
    ] as const) {
      if (tasks.get(id)?.bike !== bike)
        problem([...here, end], `${bike.id} has no task ${id}.`, 'Name a task of this bike.')
    }
    if (waitsRight && from !== to && waitsFor(from, to, tasks))
      problem([...here, 'to'], `${to} ends before ${from} may start.`, 'Turn from and to round.')
  })
}

function waitsFor(id: string, other: string, tasks: ReadonlyMap<string, Place>): boolean {
  const seen = new Set<string>()
  const open = [id]
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    if (next === other) return true
    if (seen.has(next)) continue
    seen.add(next)
    open.push(...(tasks.get(next)?.task.after ?? []))
  }
  return false
}

function checkPins(
  { fixed }: Checked,
  { tasks, problem }: { tasks: ReadonlyMap<string, Place>; problem: Problem },
): void {
  for (const [id, { start, by }] of Object.entries(fixed)) {
    const place = tasks.get(id)
    if (!place) {
      problem(['fixed', id], `There is no task ${id}.`, unknownTask)
      continue
    }
    const release = Math.max(place.task.release, place.bike.release)
    if (start !== undefined && start < release)
      problem(
        ['fixed', id, 'start'],
        `${id} cannot start at ${start}: it is not released before ${release}.`,
        'Pin it later, or release it earlier.',
      )
    if (by !== undefined && !place.task.by?.includes(by))
      problem(['fixed', id, 'by'], `${id} is not done by ${by}.`, 'Name one of those under by.')
  }
}
