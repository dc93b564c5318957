import type { BenchPin } from '../plan/bench-input'
import { type BenchPlan, benchPlan, type HoursSpread } from '../plan/bench-plan'
import type { Skill } from '../plan/bike-tasks'
import { openTimes, type TimeOff, unitsADay, type WorkWeek } from '../plan/working-time'
import { CalcProblem } from '../quantity/problem'
import { type BenchWork, type BikeForBench, benchBikeOf } from './bench-bikes'

/** The bench of a shop as it stands: who, where, when, and which bikes wait. */
export type ShopBench = {
  /** The first day of the plan; all units count from its midnight. */
  startsOn: string
  /** The unit it is now; nothing is planned before. */
  now: number
  people: readonly {
    id: string
    name: string
    /** Null for every kind of work. */
    skills: readonly Skill[] | null
    /** Times as long as the hours say. */
    pace: number
    week: WorkWeek
    off: readonly TimeOff[]
  }[]
  lifts: number
  /** Part of their time that people are at a bike. */
  atTheBike: number
  /** Days that work given to others is away where nobody has said. */
  awayDays: number
  benchWork: BenchWork
  bikes: readonly BikeForBench[]
  pins: readonly BenchPin[]
  /** Orders of work tried at most. */
  effort: number
}

export type ShopPlan = BenchPlan & {
  /** Why what was settled by hand could not stand, where it could not: then the plan is made without it. */
  pinProblem: string | null
  /** Minor units that bikes stand longer for what was settled by hand; null where nothing was. */
  pinsCost: number | null
}

/** Everybody's open times reach as far as the work may; what would come later is said to come beyond the plan. */
const mostDays = 1000

/** The order of work in a shop, and when each of its bikes is ready. */
export function planBench(shop: ShopBench): ShopPlan {
  const made = shop.bikes.map((bike) =>
    benchBikeOf(bike, { benchWork: shop.benchWork, outsideDays: shop.awayDays }),
  )
  const bikes = made.map(({ bike }) => bike)
  const spreads: Record<string, HoursSpread> = Object.fromEntries(
    made.map(({ bike, spread }) => [bike.id, spread]),
  )
  const days = daysAhead(shop, bikes)
  const people = shop.people.map(({ week, off, ...person }) => ({
    ...person,
    atTheBike: shop.atTheBike,
    open: openTimes({ startsOn: shop.startsOn, days, week, off }),
  }))
  // What was settled of work that is done by now holds no more.
  const tasks = new Set(
    bikes.flatMap(({ viewingNo, tasks }) => tasks.map(({ key }) => `${viewingNo}/${key}`)),
  )
  const pins = shop.pins.filter(({ task }) => tasks.has(task))
  const { now, lifts, effort } = shop
  const planned = (of: readonly BenchPin[]) =>
    benchPlan({ bench: { now, people, lifts, bikes, pins: of }, spreads, effort })
  if (pins.length === 0) return { ...planned([]), pinProblem: null, pinsCost: null }
  const free = planned([])
  try {
    const settled = planned(pins)
    return { ...settled, pinProblem: null, pinsCost: Math.max(0, settled.stands - free.stands) }
  } catch (error) {
    if (!(error instanceof CalcProblem)) throw error
    return { ...free, pinProblem: error.message, pinsCost: null }
  }
}

/** Twice the days that everybody together needs, and two months. */
function daysAhead(
  { people, atTheBike }: Pick<ShopBench, 'people' | 'atTheBike'>,
  bikes: readonly ReturnType<typeof benchBikeOf>['bike'][],
): number {
  const hours = bikes.reduce((sum, { tasks }) => sum + tasks.reduce((all, task) => all + task.hours, 0), 0)
  const hoursADay = people.reduce(
    (sum, { week, pace }) =>
      sum + (((week.toMinute - week.fromMinute) / 60) * (week.weekdays.length / 7) * atTheBike) / pace,
    0,
  )
  const latestParts = Math.max(0, ...bikes.flatMap(({ partsIn }) => Object.values(partsIn))) / unitsADay
  const needed = 60 + latestParts + (2 * hours) / Math.max(0.5, hoursADay)
  return Math.min(mostDays, Math.ceil(needed))
}
