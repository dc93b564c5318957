import type { Bench, BenchBike } from './bench-input'
import { isHandsOn, taskId } from './bench-input'
import type { Placed } from './replay'
import { unitsAnHour } from './working-time'

/** What a bike's date hangs on most. Units; `until` is when the waiting ends. */
export type Why =
  /** Nothing is left to do. */
  | { on: 'nothing' }
  /** Its own work fills the time. */
  | { on: 'work' }
  | { on: 'parts'; job: string; until: number }
  | { on: 'away'; task: string; until: number }
  | { on: 'hardening'; task: string; until: number }
  /** The person, the bike's place or the lift that it wants is at another bike. */
  | { on: 'person'; person: string; bike: string; until: number }
  | { on: 'lift'; bike: string; until: number }
  | { on: 'pin'; task: string; until: number }

/**
 * Walks back from the task that ends last along what each one waited for, and names the longest wait on that way. Waits
 * under two hours are none.
 */
export function whyThen(asked: {
  bike: BenchBike
  bench: Bench
  placed: readonly Placed[]
  before: ReadonlyMap<string, readonly string[]>
  /** Whether every lift is taken at a unit. */
  areLiftsFull: (unit: number) => boolean
}): Why {
  const { bike, bench, placed, before, areLiftsFull } = asked
  const own = placed.filter((task) => task.bike === bike.id)
  if (own.length === 0) return { on: 'nothing' }
  const byId = new Map(placed.map((task) => [task.id, task]))
  const kinds = new Map(bike.tasks.map((task) => [taskId(bike, task.key), task]))
  let here: Placed | undefined = own.reduce((last, task) => (task.end > last.end ? task : last))
  const waits: { units: number; why: Why }[] = []
  while (here && here.bike === bike.id) {
    const task: Placed = here
    const kind = kinds.get(task.id)!
    if (!isHandsOn(kind)) {
      const on = kind.kind === 'away' ? 'away' : 'hardening'
      waits.push({ units: task.end - task.start, why: { on, task: kind.title, until: task.end } })
    }
    const followed: Placed[] = before.get(task.id)!.map((id) => byId.get(id)!)
    const ready = Math.max(
      bench.now,
      ...own.filter(({ id }) => task.after.includes(id)).map(({ end }) => end),
    )
    const last = followed.reduce<Placed | undefined>(
      (latest, one) => (!latest || one.end > latest.end ? one : latest),
      undefined,
    )
    const units = task.start - ready
    if (task.isPinned && task.start > (last?.end ?? bench.now) && task.start > task.release) {
      waits.push({ units, why: { on: 'pin', task: kind.title, until: task.start } })
    } else if (task.release > bench.now && task.release >= (last?.end ?? 0)) {
      const job = kind.jobs.find((key) => bike.partsIn[key] === task.release) ?? kind.jobs[0]!
      waits.push({ units: task.release - bench.now, why: { on: 'parts', job, until: task.release } })
    } else if (last && last.bike !== bike.id) {
      const other: Pick<Extract<Why, { on: 'lift' }>, 'bike' | 'until'> = { bike: last.bike, until: last.end }
      waits.push({
        units,
        // Where no lift was free when it could have begun, a free person would not have helped.
        why:
          task.person !== null && !(kind.onLift && areLiftsFull(ready))
            ? { on: 'person', person: task.person, ...other }
            : { on: 'lift', ...other },
      })
    }
    here = last
  }
  const longest = waits.reduce<(typeof waits)[number] | null>(
    (most, one) => (one.units > (most?.units ?? leastWait) ? one : most),
    null,
  )
  return longest?.why ?? { on: 'work' }
}

const leastWait = 2 * unitsAnHour
