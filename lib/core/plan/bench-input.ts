import type { BikeTask, BikeTasks, Skill } from './bike-tasks'
import type { PlanInput } from './plan.input'
import { type OpenTimes, unitsAnHour } from './working-time'

/** Somebody at the bench. */
export type BenchPerson = {
  id: string
  name: string
  /** Kinds of work the person does; null for every kind. */
  skills: readonly Skill[] | null
  /** Times as long as the hours say: 1.2 is a fifth slower. */
  pace: number
  /** The part of the time there that is spent at the bike, over 0 to 1. */
  atTheBike: number
  open: OpenTimes
}

/** A bike with what is left to do on it. */
export type BenchBike = BikeTasks & {
  id: string
  viewingNo: number
  /** Minor units a day that it stands. */
  dayPrice: number
  /** The unit at which it was promised to be ready; null where it was not. */
  due: number | null
  /** The first unit of a job: its parts are in by then. Jobs whose parts are here are left out. */
  partsIn: Readonly<Record<string, number>>
  /** The jobs at which somebody's clock runs, with whose. */
  running: readonly { job: string; person: string }[]
}

export type BenchPin = { task: string; start: number; person: string | null }

export type Bench = {
  now: number
  people: readonly BenchPerson[]
  lifts: number
  bikes: readonly BenchBike[]
  pins: readonly BenchPin[]
}

/** Tasks that a person does; the others go by the clock. */
export function isHandsOn({ kind }: Pick<BikeTask, 'kind'>): boolean {
  return kind !== 'away' && kind !== 'wait'
}

/** The number of a task through the whole plan. */
export function taskId({ viewingNo }: Pick<BenchBike, 'viewingNo'>, key: string): string {
  return `${viewingNo}/${key}`
}

/** Who may do a task: those who do its kind of work, or everybody where nobody does. */
export function whoMayDo({ skill }: Pick<BikeTask, 'skill'>, people: readonly BenchPerson[]): BenchPerson[] {
  const able = people.filter(({ skills }) => skill === null || skills === null || skills.includes(skill))
  return able.length > 0 ? able : [...people]
}

/**
 * The workshop as the plan reads it, in quarters of an hour. One person is at a bike at a time; a person's time there
 * is stretched by his pace and by what of his day he is not at the bike; work stops at closing and goes on at
 * opening; nothing is opened before its parts are in. Whatever was promised comes before all else: a day late costs
 * more than all bikes standing a hundred days.
 */
export function benchInput(bench: Bench, effort: number): PlanInput {
  const { now, people, lifts, bikes } = bench
  const standsAUnit = bikes.reduce((sum, { dayPrice }) => sum + dayPrice, 0) / (24 * unitsAnHour)
  return {
    resources: {
      ...Object.fromEntries(people.map(({ id }) => [id, { capacity: 1, clock: id }])),
      lift: lifts,
      ...Object.fromEntries(bikes.map((bike) => [atBike(bike), 1])),
    },
    calendars: Object.fromEntries(people.map(({ id, open }) => [id, open])),
    pace: Object.fromEntries(people.map(({ id, pace, atTheBike }) => [id, pace / atTheBike])),
    bikes: bikes.map(({ keptOnLift, due, ...bike }) => ({
      id: bike.id,
      weight: bike.dayPrice / (24 * unitsAnHour),
      release: now,
      tasks: bike.tasks.map((task) => planTask(task, { bike, bench })),
      holds: keptOnLift
        ? [{ resource: 'lift', from: taskId(bike, keptOnLift.from), to: taskId(bike, keptOnLift.to) }]
        : [],
      latePerUnit: due === null ? 0 : Math.max(1, standsAUnit * 100),
      ...(due !== null && { due }),
    })),
    fixed: Object.fromEntries([...runningPins(bench), ...bench.pins].map(pinned)),
    objective: 'weighted-ready',
    seed: 1,
    effort,
  }
}

function atBike({ viewingNo }: Pick<BenchBike, 'viewingNo'>): string {
  return `at ${viewingNo}`
}

/** Lengths before any pace, in units; a task of a person takes at least one where anything is left of it. */
export function unitsOf(task: Pick<BikeTask, 'kind' | 'hours'>): number {
  const units = task.hours * unitsAnHour
  if (!isHandsOn(task)) return Math.ceil(units - 1e-9)
  return units > 0 ? Math.max(1, Math.round(units)) : 0
}

function planTask(
  task: BikeTask,
  { bike, bench }: { bike: Pick<BenchBike, 'viewingNo' | 'partsIn'>; bench: Bench },
): PlanInput['bikes'][number]['tasks'][number] {
  const duration = unitsOf(task)
  const release = Math.max(bench.now, ...task.jobs.map((job) => bike.partsIn[job] ?? 0))
  const base = {
    id: taskId(bike, task.key),
    duration,
    release,
    after: task.after.map((key) => taskId(bike, key)),
    uses: {},
    pausable: false,
  }
  // Nothing is left of one without length: it only marks from when or until when the bike stays on its lift.
  if (!isHandsOn(task) || duration === 0) return base
  const uses = { ...(task.onLift && { lift: 1 }), [atBike(bike)]: 1 }
  return { ...base, uses, by: whoMayDo(task, bench.people).map(({ id }) => id), pausable: true }
}

/** Who is at a job now goes on with it, where the shop is open at all. */
function runningPins({ now, people, bikes, pins }: Bench): BenchPin[] {
  const taken = new Set<string>()
  return bikes.flatMap((bike) =>
    bike.running.flatMap(({ job, person }) => {
      const who = people.find(({ id }) => id === person)
      const first = bike.tasks.find((task) => isHandsOn(task) && task.jobs.includes(job) && unitsOf(task) > 0)
      const isThere = who?.open.some(([from, to]) => from <= now && now < to)
      if (!who || !first || !isThere || taken.has(person) || taken.has(bike.id)) return []
      const task = taskId(bike, first.key)
      if (first.after.some((key) => unitsOf(bike.tasks.find((one) => one.key === key)!) > 0)) return []
      if (pins.some((pin) => pin.task === task) || !whoMayDo(first, people).includes(who)) return []
      taken.add(person)
      taken.add(bike.id)
      return [{ task, start: now, person }]
    }),
  )
}

function pinned({ task, start, person }: BenchPin) {
  return [task, { start, ...(person !== null && { by: person }) }] as const
}
