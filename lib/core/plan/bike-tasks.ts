import { closureOf } from '../work/union'

/** Kinds of bench work. A person who has the kind of a task may do it; a task without one anybody may do. */
export const skills = ['fuel', 'brakes', 'chassis', 'engine', 'electrics', 'looks'] as const
export type Skill = (typeof skills)[number]

/** A labour step that jobs share, as the plan sees it. */
export type StepToPlan = {
  key: string
  title: string
  /** Mean hours off and on again, stuck fasteners included. */
  hours: number
  needs: readonly string[]
  /** The part of its hours that comes at the end, when all is put back; 0 to 1. */
  putBackShare: number
  /** From its start until it is put back the bike cannot be rolled off its lift. */
  keepsOnLift: boolean
}

/** A job that is certain to be done, as the plan sees it. */
export type JobToPlan = {
  key: string
  title: string
  /** Keys of steps; what these need comes with them. */
  steps: readonly string[]
  /** Mean hours of its own, stuck fasteners included. */
  hours: number
  /** Hours already worked on it. They are taken off what is opened first, then off its own. */
  spentHours: number
  /** Begun and not ended: something is always left of it. */
  underWay: boolean
  /** Days that somebody outside has it for, by the clock; 0 where all is done here. */
  awayDays: number
  /** What must harden, charge or dry after its own work, by the clock; null where nothing must. */
  wait: { title: string; hours: number } | null
  skill: Skill | null
  /** It is done on a lift even where it opens nothing. */
  onLift: boolean
}

export const taskKinds = ['open', 'away', 'work', 'wait', 'more', 'put back', 'prove'] as const
export type TaskKind = (typeof taskKinds)[number]

/** One thing that is done on one bike without another in between. */
export type BikeTask = {
  /** Within the bike, and the same as long as its work is. */
  key: string
  kind: TaskKind
  title: string
  /** Of a person; of the clock for `away` and `wait`. */
  hours: number
  /** The jobs it belongs to. */
  jobs: readonly string[]
  after: readonly string[]
  skill: Skill | null
  onLift: boolean
}

export type BikeTasks = {
  tasks: readonly BikeTask[]
  /** From the start of the one to the end of the other the bike stays on its lift; null where it may be rolled. */
  keptOnLift: { from: string; to: string } | null
}

/** What is begun has at least this left, hours: who knows it done says so. */
const leastLeft = 0.25

/**
 * The work on one bike in the order a good hand does it: what several jobs need off comes off once, at the start; then
 * the jobs, each with what is away or must harden; then what may turn up while it is open; then everything goes back
 * on, in the turned order; then the checks that prove it. Hours are means. `moreHours` is the mean of the work that is
 * not certain, `proveHours` of the checks at the end; 0 leaves them out. Steps that exactly the same jobs need are one
 * task. The sum of hours of a person is that of the steps, each once, and of the jobs, less what was spent.
 * Steps must name only each other and hold no cycle.
 */
export function tasksOfBike(asked: {
  jobs: readonly JobToPlan[]
  steps: readonly StepToPlan[]
  moreHours: number
  proveHours: number
}): BikeTasks {
  const { jobs, steps, moreHours, proveHours } = asked
  const groups = stepGroups(jobs, steps)
  const left = hoursLeft(jobs, groups)
  const open = groups.map(
    (group): BikeTask => ({
      key: `open:${group.key}`,
      kind: 'open',
      title: group.title,
      hours: left.open.get(group)!,
      jobs: group.jobs,
      after: group.needs.map(({ key }) => `open:${key}`),
      skill: null,
      onLift: true,
    }),
  )
  const own = jobs.flatMap((job) => ofJob(job, { groups, hours: left.own.get(job)! }))
  const more = single({
    key: 'more',
    title: 'What may turn up',
    hours: moreHours,
    after: own.filter(({ kind }) => kind === 'work').map(({ key }) => key),
    onLift: true,
  })
  const putBack = groups.map((group): BikeTask => {
    const lasts = jobs.filter(({ key }) => group.jobs.includes(key)).map(lastOf)
    return {
      key: `back:${group.key}`,
      kind: 'put back',
      title: group.title,
      hours: group.putBackHours,
      jobs: group.jobs,
      after: [
        ...lasts,
        ...more.map(({ key }) => key),
        ...groups.filter(({ needs }) => needs.includes(group)).map(({ key }) => `back:${key}`),
      ],
      skill: null,
      onLift: true,
    }
  })
  const lifted = groups.filter(({ keepsOnLift }) => keepsOnLift)
  const [first] = lifted
  const keptOnLift = first ? { from: `open:${first.key}`, to: `back:${first.key}` } : null
  if (keptOnLift) chainLifted({ open, putBack, lifted, keptOnLift })
  const done = [...open, ...own, ...more, ...putBack]
  const prove = single({
    key: 'prove',
    title: 'Checks that prove it',
    hours: proveHours,
    after: done.map(({ key }) => key),
    onLift: false,
  })
  return { tasks: withoutEmpty([...done, ...prove], keptOnLift), keptOnLift }
}

/** Steps that exactly the same jobs need. */
type Group = {
  key: string
  title: string
  jobs: readonly string[]
  openHours: number
  putBackHours: number
  keepsOnLift: boolean
  needs: Group[]
}

/** In an order in which what is needed stands first. */
function stepGroups(jobs: readonly JobToPlan[], steps: readonly StepToPlan[]): Group[] {
  const known = new Map(steps.map((step) => [step.key, step]))
  const usersOf = new Map<string, string[]>()
  for (const job of jobs)
    for (const step of closureOf(job.steps, known)) usersOf.set(step, [...(usersOf.get(step) ?? []), job.key])
  const used = neededFirst(steps, known).filter(({ key }) => usersOf.has(key))
  const byUsers = grouped(used, ({ key }) => JSON.stringify(usersOf.get(key)))
  const groups = new Map<string, Group>()
  const groupOf = new Map<string, Group>()
  for (const [users, members] of byUsers) {
    const group: Group = {
      key: members[0]!.key,
      title: members.map(({ title }, at) => (at === 0 ? title : uncapitalised(title))).join(', '),
      jobs: JSON.parse(users) as string[],
      openHours: sum(members.map(({ hours, putBackShare }) => hours * (1 - putBackShare))),
      putBackHours: sum(members.map(({ hours, putBackShare }) => hours * putBackShare)),
      keepsOnLift: members.some(({ keepsOnLift }) => keepsOnLift),
      needs: [],
    }
    groups.set(users, group)
    for (const { key } of members) groupOf.set(key, group)
  }
  for (const { key, needs } of used) {
    const group = groupOf.get(key)!
    for (const need of needs) {
      const other = groupOf.get(need)!
      if (other !== group && !group.needs.includes(other)) group.needs.push(other)
    }
  }
  return neededFirst([...groups.values()], null)
}

/** The same things in an order in which each stands behind all it needs; otherwise as they stood. */
function neededFirst<T extends { key: string; needs: readonly (T | string)[] }>(
  all: readonly T[],
  byKey: ReadonlyMap<string, T> | null,
): T[] {
  const placed = new Set<T>()
  const place = (one: T) => {
    if (placed.has(one)) return
    for (const need of one.needs) place(typeof need === 'string' ? byKey!.get(need)! : need)
    placed.add(one)
  }
  all.forEach(place)
  return [...placed]
}

/** What is left of each group's opening and each job's own hours once what was worked already is taken off. */
function hoursLeft(jobs: readonly JobToPlan[], groups: readonly Group[]) {
  const open = new Map(groups.map((group) => [group, group.openHours]))
  const own = new Map<JobToPlan, number>()
  for (const job of jobs) {
    let spent = job.spentHours
    for (const group of groups.filter(({ jobs }) => jobs.includes(job.key))) {
      const taken = Math.min(spent, open.get(group)!)
      open.set(group, open.get(group)! - taken)
      spent -= taken
    }
    const left = Math.max(0, job.hours - spent)
    own.set(job, job.underWay ? Math.max(left, leastLeft) : left)
  }
  return { open, own }
}

function ofJob(job: JobToPlan, { groups, hours }: { groups: readonly Group[]; hours: number }): BikeTask[] {
  const { key, title, awayDays, wait, skill, onLift } = job
  const opened = groups.filter(({ jobs }) => jobs.includes(key)).map((group) => `open:${group.key}`)
  const base = { jobs: [key], skill: null, onLift: false }
  const away: BikeTask[] =
    awayDays > 0
      ? [{ ...base, key: `away:${key}`, kind: 'away', title, hours: awayDays * 24, after: opened }]
      : []
  const work: BikeTask = {
    ...base,
    key: `job:${key}`,
    kind: 'work',
    title,
    hours,
    after: away.length > 0 ? away.map((task) => task.key) : opened,
    skill,
    onLift: onLift || opened.length > 0,
  }
  const waits: BikeTask[] = wait
    ? [{ ...base, key: `wait:${key}`, kind: 'wait', title: wait.title, hours: wait.hours, after: [work.key] }]
    : []
  return [...away, work, ...waits]
}

function lastOf({ key, wait }: JobToPlan): string {
  return `${wait ? 'wait' : 'job'}:${key}`
}

function single(task: {
  key: 'more' | 'prove'
  title: string
  hours: number
  after: string[]
  onLift: boolean
}) {
  const made: BikeTask = { ...task, kind: task.key, jobs: [], skill: null }
  return task.hours > 0 ? [made] : []
}

/** One stay on the lift for all of it: begun by what comes off first, ended by what goes back on last. */
function chainLifted(of: {
  open: BikeTask[]
  putBack: BikeTask[]
  lifted: readonly Group[]
  keptOnLift: { from: string; to: string }
}): void {
  const { open, putBack, lifted, keptOnLift } = of
  for (const { key } of lifted.slice(1)) {
    const opening = open.find((task) => task.key === `open:${key}`)!
    if (!opening.after.includes(keptOnLift.from)) opening.after = [...opening.after, keptOnLift.from]
    const last = putBack.find((task) => task.key === keptOnLift.to)!
    if (!last.after.includes(`back:${key}`)) last.after = [...last.after, `back:${key}`]
  }
}

/** Without the tasks that nothing is left of; what came after them comes after what they came after. */
function withoutEmpty(tasks: readonly BikeTask[], kept: BikeTasks['keptOnLift']): BikeTask[] {
  const byKey = new Map(tasks.map((task) => [task.key, task]))
  const stays = ({ key, hours }: BikeTask) => hours > 0 || key === kept?.from || key === kept?.to
  const solid = (key: string): string[] => {
    const task = byKey.get(key)!
    return stays(task) ? [key] : task.after.flatMap(solid)
  }
  return tasks.filter(stays).map((task) => ({ ...task, after: [...new Set(task.after.flatMap(solid))] }))
}

function grouped<T>(all: readonly T[], by: (one: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>()
  for (const one of all) groups.set(by(one), [...(groups.get(by(one)) ?? []), one])
  return groups
}

function uncapitalised(title: string): string {
  return title.charAt(0).toLowerCase() + title.slice(1)
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
