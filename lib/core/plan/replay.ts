import { endOfWork, type OpenTimes } from './working-time'

/** A task of a plan that stands, with what it waited for. */
export type Placed = {
  id: string
  bike: string
  start: number
  end: number
  /** Units of work at the bike before pace; of the clock where nobody does it. */
  length: number
  /** Who does it; null where it goes by the clock. */
  person: string | null
  release: number
  /** It stays where it was put. */
  isPinned: boolean
  after: readonly string[]
}

export type Replayed = { starts: ReadonlyMap<string, number>; ends: ReadonlyMap<string, number> }

/**
 * What comes of a plan when the work takes longer or shorter than it reckoned with: everybody keeps to the order, and
 * each task starts as soon as what it follows is done, its parts are in and its person is there. `before` names
 * what each task follows, by `whatEachFollows`; `lengthOf` its length this time. In units, in the order of the plan.
 */
export function replay(asked: {
  placed: readonly Placed[]
  before: ReadonlyMap<string, readonly string[]>
  people: ReadonlyMap<string, { open: OpenTimes; stretch: number }>
  lengthOf: (task: Placed) => number
}): Replayed {
  const { placed, before, people, lengthOf } = asked
  const starts = new Map<string, number>()
  const ends = new Map<string, number>()
  for (const task of placed) {
    const earliest = Math.max(
      task.isPinned ? task.start : task.release,
      ...before.get(task.id)!.map((id) => ends.get(id)!),
    )
    const who = task.person === null ? null : people.get(task.person)!
    const length = lengthOf(task)
    const start = who ? startOfWork(who.open, earliest) : earliest
    starts.set(task.id, start)
    ends.set(task.id, who ? endOfWork(who.open, start, paced(length, who.stretch)) : start + length)
  }
  return { starts, ends }
}

/** A person, a bike or a lift taken: by one task, or from the start of the first to the end of the last. */
export type Taken = { first: string; last: string; from: number; to: number }

/**
 * What each task follows in a plan: what it needs done, and whatever left the person, the bike or the lift that it
 * takes, last before it. `taken` names what is taken, and how many there are of each.
 */
export function whatEachFollows(
  placed: readonly Placed[],
  taken: Iterable<{ by: readonly Taken[]; capacity: number }>,
): Map<string, string[]> {
  const follows = new Map(placed.map(({ id, after }) => [id, new Set(after)]))
  for (const { by, capacity } of taken) {
    // As many chains as there are of it. Each goes on behind what left it last, so that none waits in vain.
    const chains: Taken[] = []
    for (const one of [...by].sort((a, b) => a.from - b.from || a.to - b.to)) {
      const [free] = chains.filter(({ to }) => to <= one.from).sort((a, b) => b.to - a.to)
      if (free) {
        follows.get(one.first)!.add(free.last)
        chains.splice(chains.indexOf(free), 1)
      }
      if (free || chains.length < capacity) chains.push(one)
    }
  }
  return new Map([...follows].map(([id, ids]) => [id, [...ids]]))
}

/** Rounded up, as `plan` does it. */
function paced(length: number, stretch: number): number {
  return Math.ceil(length * stretch * (1 - 1e-12))
}

function startOfWork(open: OpenTimes, from: number): number {
  for (const [start, end] of open) if (from < end) return Math.max(start, from)
  return Number.POSITIVE_INFINITY
}
