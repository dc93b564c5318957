import type { TaskKind } from '../core/plan/bike-tasks'
import type { Why } from '../core/plan/why-then'
import { momentOf } from '../core/plan/working-time'
import type { Store } from '../data/store'
import { type KeptPlan, readBenchPlan } from './bench-plan'
import type { BikeName } from './read-board'

/*
 * The bench plan as it is shown: to whoever may see money with it, and to the bench without.
 */

/** A moment of the plan: a day, and minutes from its midnight. */
export type Moment = { day: string; minute: number }

export type TaskShown = {
  id: string
  bike: string
  viewingNo: number
  /** Key within the bike. */
  task: string
  kind: TaskKind
  title: string
  /** Name of who does it; null where it goes by the clock. */
  who: string | null
  person: string | null
  start: number
  end: number
  from: Moment
  to: Moment
  isPinned: boolean
  nobodyAble: boolean
}

export type BikePlanned = BikeName & {
  id: string
  viewingNo: number
  stockNo: number | null
  stage: string
  ready: Moment
  /** By then in eight of ten; null beyond the plan. */
  promisedBy: Moment | null
  /** In half of all cases. */
  middle: Moment | null
  chanceOfDue: number | null
  promise: { day: string | null; note: string; version: number }
  why: Why
  tasks: readonly TaskShown[]
}

export type BikePlannedWithMoney = BikePlanned & {
  /** Minor units a day. */
  dayPriceMinor: number
  /** Minor units until it is ready. */
  standsMinor: number
}

type Base = {
  startsOn: string
  today: string
  zone: string
  now: Moment
  at: string
  /** Whether it is of now; or something changed since and it is being worked out again, or that failed. */
  state: KeptPlan['state']
  people: readonly { id: string; name: string }[]
  lifts: readonly (readonly { bike: string; from: number; to: number }[])[]
  /** The working day, minutes from midnight, and its weekdays. */
  week: { weekdays: readonly number[]; fromMinute: number; toMinute: number }
  /** Bikes at which nothing is planned, since somebody must answer first. */
  waiting: readonly (BikeName & { viewingNo: number })[]
}

export type PlanPage = Base & {
  currency: string
  bikes: readonly BikePlannedWithMoney[]
  standsMinor: number
  standsADayMinor: number
  stoodBeforeMinor: number | null
  isProven: boolean
  /** Null where a promise is broken. */
  couldSaveMinor: number | null
  pinProblem: string | null
  pinsCostMinor: number | null
  /** Names of all tasks by bike and key, for the form that settles one. */
  pins: readonly {
    bike: string
    viewingNo: number
    task: string
    title: string
    from: Moment
    doer: string | null
  }[]
}

/** The whole plan, soonest ready first, with what bikes standing costs. */
export async function readPlanPage(store: Store, now: Date): Promise<PlanPage> {
  const { base, kept, shop, bikes } = await readBoth(store, now)
  const byId = new Map(kept.plan.bikes.map((bike) => [bike.id, bike]))
  const pins = await store.db.planPin.findMany({ where: { withdrawnAt: null }, orderBy: { at: 'asc' } })
  return {
    ...base,
    currency: shop.currency,
    bikes: bikes.map((bike) => ({
      ...bike,
      dayPriceMinor: byId.get(bike.id)!.dayPrice,
      standsMinor: byId.get(bike.id)!.stands,
    })),
    standsMinor: kept.plan.stands,
    standsADayMinor: kept.plan.bikes.reduce((sum, { dayPrice }) => sum + dayPrice, 0),
    stoodBeforeMinor: kept.stoodBefore,
    isProven: kept.plan.isProven,
    couldSaveMinor: kept.plan.couldSave,
    pinProblem: kept.plan.pinProblem,
    pinsCostMinor: kept.plan.pinsCost,
    pins: pins.flatMap(({ bikeId, task, title, day, minute, doer }) => {
      const bike = bikes.find(({ id }) => id === bikeId)
      if (!bike) return []
      return [{ bike: bikeId, viewingNo: bike.viewingNo, task, title, from: { day, minute }, doer }]
    }),
  }
}

export type TodayPage = Base & {
  me: string
  /** What the reader does today, in order. */
  mine: readonly (TaskShown & BikeName)[]
  /** What others do today. */
  others: readonly (TaskShown & BikeName)[]
  /** What goes by the clock today: hardening, charging, away. */
  byTheClock: readonly (TaskShown & BikeName)[]
  /** What the reader does on the days after. */
  next: readonly (TaskShown & BikeName)[]
}

/** What is done today, by the plan: for everybody at the bench, without money. */
export async function readTodayPage(store: Store, now: Date, me: string): Promise<TodayPage> {
  const { base, bikes } = await readBoth(store, now)
  const tasks = bikes.flatMap(({ tasks, make, model, year, registration }) =>
    tasks.map((task) => ({ ...task, make, model, year, registration })),
  )
  const isToday = ({ from, to }: TaskShown) =>
    from.day <= base.today && (to.day > base.today || (to.day === base.today && to.minute > base.now.minute))
  const byStart = tasks.sort((a, b) => a.start - b.start || a.end - b.end)
  const today = byStart.filter(isToday)
  return {
    ...base,
    me,
    mine: today.filter(({ person }) => person === me),
    others: today.filter(({ person }) => person !== null && person !== me),
    byTheClock: today.filter(({ person }) => person === null),
    next: byStart.filter(({ person, from }) => person === me && from.day > base.today).slice(0, 8),
  }
}

async function readBoth(store: Store, now: Date) {
  const { kept, shop, bench, bikes } = await readBenchPlan(store, now)
  const { startsOn, plan } = kept
  const [promised, waiting, people] = await Promise.all([
    store.db.promised.findMany(),
    store.db.bike.findMany({
      where: { stage: 'waiting for a decision' },
      select: { viewingNo: true, make: true, model: true, year: true, registration: true },
      orderBy: { viewingNo: 'asc' },
    }),
    store.db.person.findMany({ select: { id: true, name: true } }),
  ])
  const nameOf = new Map(people.map(({ id, name }) => [id, name]))
  const moment = (unit: number): Moment => momentOf(startsOn, unit)
  const rows = new Map(bikes.map((bike) => [bike.id, bike]))
  const shown = plan.bikes.flatMap((planned): BikePlanned[] => {
    // Sold or passed up since the kept plan was made.
    const bike = rows.get(planned.id)
    if (!bike) return []
    const { id, viewingNo, stockNo, stage, make, model, year, registration } = bike
    const promise = promised.find(({ bikeId }) => bikeId === id)
    const { promised: by, middle } = planned.readyBy
    return [
      {
        ...{ id, viewingNo, stockNo, stage, make, model, year, registration },
        ready: moment(planned.ready),
        // Where most likely nothing turns up the plan still keeps time for it: nothing is promised before that.
        promisedBy: by === null ? null : moment(Math.max(by, planned.ready)),
        middle: middle === null ? null : moment(middle),
        chanceOfDue: planned.chanceOfDue,
        promise: { day: promise?.day ?? null, note: promise?.note ?? '', version: promise?.version ?? 0 },
        why: planned.why,
        tasks: plan.tasks
          .filter((task) => task.bike === id)
          .map(({ key, title, kind, person, start, end, isPinned, nobodyAble, ...task }) => ({
            id: task.id,
            bike: id,
            viewingNo,
            task: key,
            kind,
            title,
            who: person === null ? null : (nameOf.get(person) ?? 'somebody'),
            person,
            start,
            end,
            from: moment(start),
            to: moment(end),
            isPinned,
            nobodyAble,
          })),
      },
    ]
  })
  const readyAt = new Map(plan.bikes.map(({ id, ready }) => [id, ready]))
  const { weekdays, fromMinute, toMinute } = shop.figures.bench
  const base: Base = {
    startsOn,
    today: shop.today,
    zone: shop.zone,
    now: momentOf(bench.startsOn, bench.now),
    at: kept.at.toISOString(),
    state: kept.state,
    people: bench.people.map(({ id, name }) => ({ id, name })),
    lifts: plan.lifts,
    week: { weekdays, fromMinute, toMinute },
    waiting,
  }
  return { base, kept, shop, bikes: shown.sort((a, b) => readyAt.get(a.id)! - readyAt.get(b.id)!) }
}
