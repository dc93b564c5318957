import type { Hold, Lists, Model } from './model'
import type { OpenTimes } from './open-times'

/**
 * A model as time runs on, or as seen from its horizon with time running back: what came after comes before, a hold
 * begins where it ended, a calendar is turned round. So one way of scheduling does for both directions.
 */
export interface Side {
  model: Model
  back: boolean
  preds: Lists
  succs: Lists
  clocks: OpenTimes[]
  holds: SideHold[]
  /** Holds that begin with a task. */
  holdsFrom: number[][]
  /** Holds that end with one. */
  holdsTo: number[][]
  /** Of each hold, whether its end waits for a task. */
  awaited: Uint8Array[]
  /** How much of each need a task has to find itself: one less where a hold of its bike is sure to cover it. */
  own: Int32Array
  /** Of each way: whether its person must be free, 0 where a hold of the bike is sure to have them. */
  ownPerson: Uint8Array
  /** Tasks that may find what they need in a hold of their bike, if it happens to be there at the time. */
  mayShare: Uint8Array
}

export interface SideHold extends Hold {
  /** Tasks that must be placed before its end is known, in turn; `last` is among them. */
  members: Int32Array
  /** Other holds of the same bike and resource, itself included. */
  together: number[]
  /** Tasks of the bike that share its unit if they happen to run while it is held. */
  sharers: number[]
  /** It cannot be shorter. */
  least: number
}

export function sideOf(model: Model, direction: 'on' | 'back'): Side {
  const back = direction === 'back'
  const preds = back ? model.succs : model.preds
  const succs = back ? model.preds : model.succs
  const turn = back ? Int32Array.from(model.inTurn).reverse() : model.inTurn
  const holds = model.holds.map(({ bike, resource, from, to }) => ({
    bike,
    resource,
    from: back ? to : from,
    to: back ? from : to,
    members: new Int32Array(),
    together: model.holds.flatMap((one, at) => (one.bike === bike && one.resource === resource ? [at] : [])),
    sharers: [],
    least: longestWay(from, to, model),
  }))
  const side: Side = {
    model,
    back,
    preds,
    succs,
    clocks: back ? model.clocks.map((clock) => clock.mirrored(model.horizon)) : model.clocks,
    holds,
    holdsFrom: Array.from({ length: model.tasks }, () => []),
    holdsTo: Array.from({ length: model.tasks }, () => []),
    awaited: holds.map(({ to }) => reached(to, preds)),
    own: Int32Array.from(model.needs.amount),
    ownPerson: Uint8Array.from(model.ways.person, () => 1),
    mayShare: new Uint8Array(model.tasks),
  }
  holds.forEach((hold, at) => {
    side.holdsFrom[hold.from]!.push(at)
    side.holdsTo[hold.to]!.push(at)
    hold.members = turn.filter((task) => side.awaited[at]![task] === 1)
  })
  if (holds.length > 0) settleShares(side)
  return side
}

/** Which tasks a hold is sure to cover: those between its two ends, whatever the schedule. */
function settleShares({ model, preds, succs, holds, own, ownPerson, mayShare }: Side): void {
  const covered = holds.map(({ from, to }) => {
    const after = reached(from, succs)
    const before = reached(to, preds)
    return after.map((yes, task) => yes & before[task]!)
  })
  const { needs, ways } = model
  const share = (task: number, resource: number) => {
    mayShare[task] = 1
    for (const hold of holds)
      if (hold.bike === model.bikeOf[task] && hold.resource === resource && !hold.sharers.includes(task))
        hold.sharers.push(task)
  }
  const coverOf = (task: number, resource: number): 'sure' | 'maybe' | 'none' => {
    let found: 'maybe' | 'none' = 'none'
    for (const [at, hold] of holds.entries()) {
      if (hold.bike !== model.bikeOf[task] || hold.resource !== resource) continue
      if (covered[at]![task] === 1) return 'sure'
      found = 'maybe'
    }
    return found
  }
  for (let task = 0; task < model.tasks; task++) {
    for (let at = needs.first[task]!; at < needs.first[task + 1]!; at++) {
      const cover = coverOf(task, needs.all[at]!)
      if (cover === 'sure') own[at]!--
      if (cover === 'maybe') share(task, needs.all[at]!)
    }
    for (let way = ways.first[task]!; way < ways.first[task + 1]!; way++) {
      const cover = coverOf(task, ways.person[way]!)
      if (cover === 'sure') ownPerson[way] = 0
      if (cover === 'maybe') share(task, ways.person[way]!)
    }
  }
}

/** The longest way from the start of one task to the end of another, by durations alone; 0 where none leads there. */
function longestWay(from: number, to: number, { inTurn, preds, ways }: Model): number {
  const length = new Float64Array(inTurn.length).fill(Number.NEGATIVE_INFINITY)
  for (const task of inTurn) {
    let before = task === from ? 0 : Number.NEGATIVE_INFINITY
    for (let at = preds.first[task]!; at < preds.first[task + 1]!; at++)
      before = Math.max(before, length[preds.all[at]!]!)
    length[task] = before + Math.min(...ways.duration.subarray(ways.first[task]!, ways.first[task + 1]!))
  }
  return Math.max(0, length[to]!)
}

/** The task and all that it leads to. */
export function reached(task: number, { first, all }: Lists): Uint8Array {
  const yes = new Uint8Array(first.length - 1)
  const open = [task]
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    if (yes[next] === 1) continue
    yes[next] = 1
    for (let at = first[next]!; at < first[next + 1]!; at++) open.push(all[at]!)
  }
  return yes
}
