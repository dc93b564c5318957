import { alwaysOpen, nobody } from './model'
import { firstSpan, noSpan, Profile } from './profile'
import type { Side, SideHold } from './side'

const never = Number.POSITIVE_INFINITY
// Kept here: what is imported may be looked up anew at each use.
const first = firstSpan
const end = noSpan
const always = alwaysOpen
const anyone = nobody
/** So often it begins anew, a hold that found no room long enough being sent behind what was in its way. */
const attempts = 20

/**
 * Serial schedule generation (Kelley 1963; Kolisch 1996): tasks in a given order, each at the earliest time that
 * what comes before it, calendars and what is still free allow. Works on one side, so forward or backward.
 *
 * A hold is taken when its first task is placed, for as long as there is room, and given back from its end on once
 * that is known. A task that has to wait for an open hold first has that hold's own tasks placed. So an order by
 * start leads to the same schedule again, or to a better one.
 */
export class Scheduler {
  readonly side: Side
  readonly start: Float64Array
  readonly finish: Float64Array
  /** The way in which each task is done, by its place in `ways`. */
  readonly way: Int32Array
  readonly placed: Uint8Array
  /** By how much pinned tasks came too early for what they wait for. */
  lateness = 0
  /** How many holds have been closed; what was found for a task before may then be earlier. */
  closed = 0
  private readonly profile: Profile
  private readonly endSpan: Int32Array
  private readonly rank: Int32Array
  private readonly holdFrom: Float64Array
  /** Until when a hold is taken: its end, or while that is open as far as there is room. */
  private readonly holdTo: Float64Array
  private readonly holdOpen: Uint8Array
  /** A hold that is being closed does not wait for itself. */
  private readonly closing: Uint8Array
  /** No hold before, after it found no room where it tried. */
  private readonly barred: Float64Array
  /**
   * How long a hold must find room for where it begins. Without pins for ever: in an order by starts nothing is
   * placed yet that comes later. With pins the least it can last, or as long as it did when that failed.
   */
  private readonly asked: Float64Array
  private release: Float64Array
  private pinned: Float64Array
  private wanted: Int32Array | null = null
  /** What the task at hand takes. */
  private readonly resource: Int32Array
  private readonly amount: Int32Array
  private readonly covered: Uint8Array
  private demands = 0
  /** Where the task at hand would stand. */
  private foundWay = 0
  private foundStart = 0
  private foundFinish = 0
  private foundSpan = 0
  /** Only what ends before is of interest. */
  private limit = never
  private clearFrom = never

  constructor(side: Side) {
    const { model } = side
    const width = model.capacity.length
    this.side = side
    this.start = new Float64Array(model.tasks)
    this.finish = new Float64Array(model.tasks)
    this.way = new Int32Array(model.tasks)
    this.placed = new Uint8Array(model.tasks)
    this.endSpan = new Int32Array(model.tasks)
    this.rank = new Int32Array(model.tasks)
    this.holdFrom = new Float64Array(side.holds.length)
    this.holdTo = new Float64Array(side.holds.length)
    this.holdOpen = new Uint8Array(side.holds.length)
    this.closing = new Uint8Array(side.holds.length)
    this.barred = new Float64Array(side.holds.length)
    this.asked = new Float64Array(side.holds.length)
    this.profile = new Profile(width, 64 + 4 * model.tasks)
    this.release = model.release
    this.pinned = model.pinned
    this.resource = new Int32Array(width + 1)
    this.amount = new Int32Array(width + 1)
    this.covered = new Uint8Array(width + 1)
  }

  /**
   * Places all tasks, each behind those it comes after: pinned ones first, then as `rest` places them by
   * `placeInTurn`. Whether all found a place; the pins hold if `lateness` is 0 then.
   */
  run(order: Int32Array, given: Given, rest: () => boolean = () => this.inOrder(order)): boolean {
    this.release = given.release
    this.pinned = given.pinned
    this.wanted = given.wanted
    this.barred.fill(0)
    if (this.side.holds.length > 0) {
      for (let at = 0; at < order.length; at++) this.rank[order[at]!] = at
      const isPinned = this.pinned.some((start) => start >= 0)
      for (let at = 0; at < this.asked.length; at++)
        this.asked[at] = isPinned ? this.side.holds[at]!.least : never
    }
    for (let attempt = 0; attempt < attempts; attempt++) {
      this.begin()
      if (this.placePins() && rest()) return true
      if (!this.sentBehind) return false
    }
    return false
  }

  /** Places a task, all it comes after being placed, and before it what it has to wait for. */
  placeInTurn(task: number): boolean {
    return this.placed[task] === 1 || this.place(task, -1)
  }

  /** The earliest a task could start as things stand. */
  earliest(task: number): number {
    return this.roomFor(task)
  }

  private inOrder(order: Int32Array): boolean {
    for (let at = 0; at < order.length; at++) if (!this.placeInTurn(order[at]!)) return false
    return true
  }

  /** Whether an attempt came to nothing only because a hold was taken where there was not room long enough. */
  private sentBehind = false

  private begin(): void {
    this.profile.reset(this.side.model.capacity)
    this.placed.fill(0)
    this.lateness = 0
    this.sentBehind = false
    if (this.side.holds.length === 0) return
    this.holdFrom.fill(never)
    this.holdTo.fill(never)
    this.holdOpen.fill(0)
    this.closing.fill(0)
  }

  private placePins(): boolean {
    const { pinned, side } = this
    for (let task = 0; task < pinned.length; task++)
      if (pinned[task]! >= 0 && !this.place(task, pinned[task]!)) return false
    for (let task = 0; task < pinned.length; task++) {
      if (pinned[task]! < 0) continue
      for (const at of side.holdsFrom[task]!) if (!this.closeHold(at)) return false
    }
    return true
  }

  /** At the earliest time there is, or exactly at `pin` where that is not below 0. */
  private place(task: number, pin: number): boolean {
    if (pin >= 0 || this.side.holds.length === 0) {
      if (!this.find(task, Math.max(0, pin), pin >= 0)) return false
    } else if (!this.settleWaits(task)) return false
    const way = this.foundWay
    const from = this.foundStart
    const to = this.foundFinish
    this.start[task] = from
    this.finish[task] = to
    this.way[task] = way
    this.placed[task] = 1
    this.gather(task, way)
    if (this.demands > 0 && to > from) {
      this.profile.cut(this.foundSpan, { from, to })
      this.take(task)
      this.endSpan[task] = this.profile.right
    } else this.endSpan[task] = this.foundSpan
    const { first: firstSucc, all } = this.side.succs
    for (let at = firstSucc[task]!; at < firstSucc[task + 1]!; at++) {
      const succ = all[at]!
      if (this.placed[succ] === 1 && this.start[succ]! < to) this.lateness += to - this.start[succ]!
    }
    return this.side.holds.length === 0 || this.turnHolds(task)
  }

  /** Opens the holds that begin with a task just placed and closes those that end with it. */
  private turnHolds(task: number): boolean {
    for (const at of this.side.holdsFrom[task]!) if (!this.openHold(at)) return false
    for (const at of this.side.holdsTo[task]!) {
      if (this.holdOpen[at] === 0) continue
      this.holdOpen[at] = 0
      this.closed++
      if (this.finish[task]! > this.holdTo[at]!) {
        this.asked[at] = this.finish[task]! - this.holdFrom[at]!
        return this.sendBehind(at, this.holdTo[at]!)
      }
      if (!this.giveBack(at, this.finish[task]!)) return false
    }
    return true
  }

  private openHold(at: number): boolean {
    const { profile, side } = this
    const hold = side.holds[at]!
    const from = this.start[hold.from]!
    const isOpen = this.placed[hold.to] === 0
    const due = isOpen ? never : this.finish[hold.to]!
    if (due <= from) return true
    let span = profile.spanAt(from, this.hintOf(from))
    let to = due
    for (let one = span; profile.time[one]! < due; one = profile.next[one]!) {
      if (this.moreForHold(hold, Math.max(from, profile.time[one]!)) <= this.freeAt(one, hold)) continue
      to = Math.max(from, profile.time[one]!)
      break
    }
    if (to <= from || (to < due && !isOpen)) return this.sendBehind(at, to)
    profile.cut(span, { from, to })
    span = profile.left
    for (; span !== profile.right; span = profile.next[span]!)
      profile.free[span * profile.width + hold.resource]! -= this.moreForHold(hold, profile.time[span]!)
    this.holdFrom[at] = from
    this.holdTo[at] = to
    this.holdOpen[at] = isOpen ? 1 : 0
    return true
  }

  /** False where tasks of the bike that shared the unit now want more than there is, each its own. */
  private giveBack(at: number, ended: number): boolean {
    const { profile, side } = this
    const hold = side.holds[at]!
    // Where the last task ran before the first, nothing was ever held.
    const from = Math.max(ended, this.holdFrom[at]!)
    const to = this.holdTo[at]!
    this.holdTo[at] = from
    if (from >= to) return true
    profile.cut(profile.spanAt(from, this.hintOf(from)), { from, to })
    for (let span = profile.left; span !== profile.right; span = profile.next[span]!) {
      const place = span * profile.width + hold.resource
      profile.free[place]! += this.moreForHold(hold, profile.time[span]!)
      if (profile.free[place]! < 0) return false
    }
    return true
  }

  /** The room that a hold began in ends at `blocked`: next time it begins when there is some again. */
  private sendBehind(at: number, blocked: number): boolean {
    const { profile, side } = this
    const hold = side.holds[at]!
    let span = profile.spanAt(blocked, first)
    while (span !== end && this.freeAt(span, hold) < 1) span = profile.next[span]!
    const clear = Math.max(profile.time[span]!, blocked, this.start[hold.from]! + 1)
    if (clear === never || this.pinned[hold.from]! >= 0) return false
    this.barred[at] = Math.max(this.barred[at]!, clear)
    this.sentBehind = true
    return false
  }

  /**
   * Where a task finds its place only behind an open hold on something it needs, the hold is closed first.
   */
  private settleWaits(task: number): boolean {
    const { holds } = this.side
    for (;;) {
      const from = this.roomFor(task)
      let waitsFor = -1
      for (let at = 0; at < holds.length; at++) {
        if (this.holdOpen[at] === 0 || this.closing[at] === 1 || this.side.awaited[at]![task]) continue
        if (from < this.holdTo[at]! || !this.needs(task, holds[at]!.resource)) continue
        if (waitsFor < 0 || this.holdFrom[at]! < this.holdFrom[waitsFor]!) waitsFor = at
      }
      if (waitsFor < 0) return from < never
      if (!this.closeHold(waitsFor)) return false
    }
  }

  private closeHold(at: number): boolean {
    if (this.holdOpen[at] === 0) return true
    const { members } = this.side.holds[at]!
    const waiting = members.filter((member) => this.placed[member] === 0)
    waiting.sort((a, b) => this.rank[a]! - this.rank[b]!)
    this.closing[at] = 1
    for (const member of waiting) if (!this.placeInTurn(member)) return false
    this.closing[at] = 0
    return true
  }

  private needs(task: number, resource: number): boolean {
    const { side } = this
    const { needs, ways } = side.model
    for (let at = needs.first[task]!; at < needs.first[task + 1]!; at++)
      if (needs.all[at] === resource && side.own[at]! > 0) return true
    for (let way = ways.first[task]!; way < ways.first[task + 1]!; way++)
      if (ways.person[way] === resource && side.ownPerson[way] === 1) return true
    return side.holdsFrom[task]!.some((at) => side.holds[at]!.resource === resource)
  }

  /** The earliest start at which a task fits and its holds have room for as long as they must last at least. */
  private roomFor(task: number): number {
    let from = 0
    for (const at of this.side.holdsFrom[task]!) from = Math.max(from, this.barred[at]!)
    search: for (;;) {
      if (!this.find(task, from, false)) return never
      from = this.foundStart
      for (const at of this.side.holdsFrom[task]!) {
        const hold = this.side.holds[at]!
        if (this.hasRoom(hold, { span: this.foundSpan, from, to: from + this.asked[at]! })) continue
        from = this.clearFrom
        if (from === never) return never
        continue search
      }
      return from
    }
  }

  /** Whether the hold could be taken in that time; if not, `clearFrom` is when it could be for a moment. */
  private hasRoom(hold: SideHold, { span, from, to }: { span: number; from: number; to: number }): boolean {
    const { profile } = this
    for (let at = span; profile.time[at]! < to; at = profile.next[at]!) {
      if (profile.time[profile.next[at]!]! <= from) continue
      if (this.moreForHold(hold, Math.max(from, profile.time[at]!)) <= this.freeAt(at, hold)) continue
      let clear = profile.next[at]!
      while (clear !== end && this.freeAt(clear, hold) < 1) clear = profile.next[clear]!
      this.clearFrom = profile.time[clear]!
      return false
    }
    return true
  }

  private freeAt(span: number, { resource }: SideHold): number {
    return this.profile.free[span * this.profile.width + resource]!
  }

  /**
   * How many more units are taken at a time once the hold is: one, none where another hold of the bike has it
   * already, and less by each task of the bike that took a unit of its own there and now shares the held one.
   */
  private moreForHold(hold: SideHold, time: number): number {
    for (const at of hold.together) if (this.holdFrom[at]! <= time && time < this.holdTo[at]!) return 0
    let more = 1
    for (const task of hold.sharers)
      if (this.placed[task] === 1 && this.start[task]! <= time && time < this.finish[task]!)
        if (this.sharesOf(task, hold.resource)) more--
    return more
  }

  private sharesOf(task: number, resource: number): boolean {
    const { model, own, ownPerson } = this.side
    const { needs, ways } = model
    for (let at = needs.first[task]!; at < needs.first[task + 1]!; at++)
      if (needs.all[at] === resource && own[at] === needs.amount[at]) return true
    const way = this.way[task]!
    return ways.person[way] === resource && ownPerson[way] === 1
  }

  private hintOf(time: number): number {
    return this.profile.time[this.foundSpan]! <= time ? this.foundSpan : first
  }

  /** Takes what was gathered, over the spans just cut. */
  private take(task: number): void {
    const { profile, resource, amount, demands } = this
    const { free, next, width } = profile
    const shares = this.side.mayShare[task] === 1
    for (let span = profile.left; span !== profile.right; span = next[span]!) {
      const at = span * width
      for (let one = 0; one < demands; one++) {
        const shared = shares ? this.sharedAt(task, one, profile.time[span]!) : 0
        free[at + resource[one]!]! -= amount[one]! - shared
      }
    }
  }

  /** 1 where a hold of the bike gives one of what is asked for at that time. */
  private sharedAt(task: number, one: number, time: number): number {
    const { model, holds } = this.side
    if (this.covered[one] === 1) return 0
    for (let at = 0; at < holds.length; at++) {
      const hold = holds[at]!
      if (hold.bike !== model.bikeOf[task] || hold.resource !== this.resource[one]) continue
      if (this.holdFrom[at]! <= time && time < this.holdTo[at]!) return 1
    }
    return 0
  }

  /** What a task takes in a way: its needs, then its person. */
  private gather(task: number, way: number): void {
    const { model, own, ownPerson } = this.side
    const { needs, ways } = model
    let demands = 0
    for (let at = needs.first[task]!; at < needs.first[task + 1]!; at++) {
      if (own[at] === 0) continue
      this.resource[demands] = needs.all[at]!
      this.amount[demands] = own[at]!
      this.covered[demands] = own[at] === needs.amount[at] ? 0 : 1
      demands++
    }
    if (ways.person[way] !== anyone && ownPerson[way] === 1) {
      this.resource[demands] = ways.person[way]!
      this.amount[demands] = 1
      this.covered[demands] = 0
      demands++
    }
    this.demands = demands
  }

  /**
   * Puts the way in which a task ends first, and where it would stand, in `found…`. False where it can stand nowhere,
   * or not at that very time where `exactly` is asked.
   */
  private find(task: number, earliest: number, exactly: boolean): boolean {
    const { preds, model } = this.side
    let ended = 0
    let span = first
    for (let at = preds.first[task]!; at < preds.first[task + 1]!; at++) {
      const pred = preds.all[at]!
      if (this.placed[pred] === 0 || this.finish[pred]! < ended) continue
      ended = this.finish[pred]!
      span = this.endSpan[pred]!
    }
    const from = Math.max(earliest, this.release[task]!, ended)
    let wanted = this.wanted === null ? -1 : this.wanted[task]!
    if (exactly && wanted < 0) wanted = model.pinnedWay[task]!
    const { first: firstWay } = model.ways
    let best = -1
    let bestStart = 0
    let bestFinish = never
    let bestSpan = 0
    for (let way = firstWay[task]!; way < firstWay[task + 1]!; way++) {
      if (wanted >= 0 && way !== wanted) continue
      this.limit = bestFinish
      if (!this.fit(task, way, from, span)) continue
      if (exactly && this.foundStart > earliest) continue
      best = way
      bestStart = this.foundStart
      bestFinish = this.foundFinish
      bestSpan = this.foundSpan
    }
    this.foundStart = bestStart
    this.foundFinish = bestFinish
    this.foundSpan = bestSpan
    this.foundWay = best
    return best >= 0
  }

  private fit(task: number, way: number, from: number, hint: number): boolean {
    const { profile, resource, amount } = this
    const { time, next, free, width } = profile
    const { ways, pausable } = this.side.model
    const duration = ways.duration[way]!
    const clock = ways.clock[way] === always ? null : this.side.clocks[ways.clock[way]!]!
    const pauses = pausable[task] === 1
    this.gather(task, way)
    const { demands } = this
    const shares = this.side.mayShare[task] === 1
    let span = hint
    let start = from
    search: for (;;) {
      if (clock !== null) {
        start = pauses ? clock.startPausable(start, duration) : clock.startUnbroken(start, duration)
      }
      const finish = clock !== null && pauses ? clock.endPausable(start, duration) : start + duration
      if (finish >= this.limit) return false
      for (let later = next[span]!; time[later]! <= start; later = next[span]!) span = later
      if (demands > 0 && finish > start) {
        let inside = span
        do {
          const at = inside * width
          for (let one = 0; one < demands; one++) {
            if (free[at + resource[one]!]! >= amount[one]!) continue
            if (
              shares &&
              free[at + resource[one]!]! + this.sharedAt(task, one, time[inside]!) >= amount[one]!
            )
              continue
            span = next[inside]!
            if (span === end) return false
            start = time[span]!
            continue search
          }
          inside = next[inside]!
        } while (time[inside]! < finish)
      }
      this.foundStart = start
      this.foundFinish = finish
      this.foundSpan = span
      return true
    }
  }
}

export interface Given {
  /** Before which none may start. */
  release: Float64Array
  /** Where pinned tasks start; −1 for the others. */
  pinned: Float64Array
  /** The way in which each is to be done; −1 for whichever ends first. */
  wanted: Int32Array | null
}
