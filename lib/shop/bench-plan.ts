import { benchWork } from '../catalogue/bench-work'
import type { BikeForBench } from '../core/board/bench-bikes'
import type { ShopBench, ShopPlan } from '../core/board/plan-bench'
import { coreVersion } from '../core/board/version'
import { unitOf, unitsADay, unitsAnHour } from '../core/plan/working-time'
import { daysBetween } from '../core/quantity/days'
import { bodyHash } from '../data/hash'
import type { Store } from '../data/store'
import { isAsideThere, reckonAside } from './aside'
import { readBenchPeople, readTimesOff } from './bench-people'
import { type BikeWithFacts, bikeWithFacts, readShopFacts, type ShopFacts } from './facts'
import { minuteIn } from './instants'
import { notedByBike, readNoted } from './noted-prices'
import { type Awaited, partsAwaited } from './parts-awaited'
import { minutesOf } from './spells'
import { benchStages } from './stage-names'
import { toWorkOut } from './to-work-out'

/** Orders of work tried for the plan that is kept, and for one that is shown until it is there. */
const effort = { kept: 4000, first: 60 }

export type KeptPlan = {
  plan: ShopPlan
  startsOn: string
  /** When it was worked out. */
  at: Date
  /** Whether it is of now; or something has changed since and it is being worked out again, or that failed. */
  state: 'now' | 'again' | 'failed'
  /** What bikes standing cost by the plan before, minor units; null where there was none. */
  stoodBefore: number | null
}

type Kept = { plan: ShopPlan; stoodBefore: number | null }

/**
 * The bench plan: as it was worked out last where nothing has changed since, else anew. Where somebody reckons beside the
 * pages the last one is shown, marked, until the new one is there.
 */
export async function readBenchPlan(
  store: Store,
  now: Date,
): Promise<{ kept: KeptPlan; shop: ShopFacts; bench: ShopBench; bikes: BikeWithFacts[] }> {
  const shop = await readShopFacts(store.db, now)
  const { bench, bikes } = await readShopBench(store, { now, shop })
  const inputsHash = bodyHash({
    coreVersion,
    bench: { ...bench, bikes: bench.bikes.map(withoutCatalogue) },
    figures: shop.figuresNo,
    catalogue: shop.catalogue,
  })
  const last = await store.db.benchPlan.findFirst({ orderBy: { no: 'desc' } })
  const asKept = (row: NonNullable<typeof last>, state: KeptPlan['state']): KeptPlan => ({
    ...(JSON.parse(row.body) as Kept),
    startsOn: row.startsOn,
    at: row.at,
    state,
  })
  if (last?.inputsHash === inputsHash) return { kept: asKept(last, 'now'), shop, bench, bikes }
  const stoodBefore = last ? asKept(last, 'again').plan.stands : null
  const keep = async (): Promise<KeptPlan> => {
    const plan = await reckonAside('bench-plan', { ...bench, effort: effort.kept })
    const kept: Kept = { plan, stoodBefore }
    await keepPlan(store, { inputsHash, startsOn: bench.startsOn, body: JSON.stringify(kept), at: now }, plan)
    return { ...kept, startsOn: bench.startsOn, at: now, state: 'now' }
  }
  if (!isAsideThere()) return { kept: await keep(), shop, bench, bikes }
  const state = underWay.failed.has(inputsHash) ? 'failed' : 'again'
  if (state === 'again') underWay.start(inputsHash, keep)
  if (last) return { kept: asKept(last, state), shop, bench, bikes }
  const plan = await reckonAside('bench-plan', { ...bench, effort: effort.first })
  return { kept: { plan, stoodBefore, startsOn: bench.startsOn, at: now, state }, shop, bench, bikes }
}

/** What is being worked out, so that many looks at a page ask for it once; what failed is tried again once it changed. */
const underWay = {
  hashes: new Set<string>(),
  failed: new Set<string>(),
  start(hash: string, work: () => Promise<unknown>) {
    if (this.hashes.has(hash)) return
    this.hashes.add(hash)
    work()
      .catch((error: unknown) => {
        this.failed.add(hash)
        console.error('The bench plan could not be worked out.', error)
      })
      .finally(() => this.hashes.delete(hash))
  },
}

/** The last two stay: the one in force, and the one before it. */
async function keepPlan(
  store: Store,
  row: { inputsHash: string; startsOn: string; body: string; at: Date },
  { bikes }: ShopPlan,
): Promise<void> {
  await store.transaction(async (tx) => {
    const last = await tx.benchPlan.findFirst({ orderBy: { no: 'desc' } })
    if (last?.inputsHash === row.inputsHash) return
    const no = (last?.no ?? 0) + 1
    await tx.benchPlan.create({ data: { no, ...row } })
    await tx.benchPlan.deleteMany({ where: { no: { lt: no - 1 } } })
    await tx.plannedReady.deleteMany()
    await tx.plannedReady.createMany({
      data: bikes.flatMap(({ id, readyBy }) => {
        const { low, middle, high } = readyBy
        if (low === null || middle === null || high === null) return []
        const inDays = (unit: number) => unit / unitsADay
        return [
          {
            bikeId: id,
            startsOn: row.startsOn,
            low: inDays(low),
            middle: inDays(middle),
            high: inDays(high),
          },
        ]
      }),
    })
  })
}

/** The catalogue is the same for all of them and counted once. */
function withoutCatalogue({ facts, ...bike }: BikeForBench) {
  // The plan's own dates are no part of what it is made from.
  const { catalogue: _, figures: __, now: ___, plannedDays: ____, ...rest } = facts
  return { ...bike, facts: rest }
}

/** The bench as it stands: people, times, bikes, what is settled. Units count from the midnight before `now`. */
async function readShopBench(
  store: Store,
  { now, shop }: { now: Date; shop: ShopFacts },
): Promise<{ bench: ShopBench; bikes: BikeWithFacts[] }> {
  const { db } = store
  const { figures, today, zone } = shop
  const bikes = await db.bike.findMany({
    where: { stage: { in: [...benchStages] } },
    include: bikeWithFacts,
    orderBy: { viewingNo: 'asc' },
  })
  const [people, times, promised, pins, ownLimits, noted, awaited] = await Promise.all([
    readBenchPeople(db, figures),
    readTimesOff(db, today),
    db.promised.findMany({ where: { day: { not: null } } }),
    db.planPin.findMany({ where: { withdrawnAt: null }, orderBy: { at: 'asc' } }),
    db.limit.findMany({
      where: { withdrawnAt: null, scope: 'bike', bikeId: { in: bikes.map(({ id }) => id) } },
    }),
    readNoted(db, null).then(notedByBike),
    partsAwaited(
      db,
      bikes.map(({ id }) => id),
      now,
    ),
  ])
  const numberOf = new Map(bikes.map(({ id, viewingNo }) => [id, viewingNo]))
  const thisHour = Math.floor(minuteIn(zone, now) / 60) * unitsAnHour
  const bench: ShopBench = {
    startsOn: today,
    now: thisHour,
    people: people
      .filter(({ atBench }) => atBench)
      .map(({ person, name, skills, pace, weekdays, fromMinute, toMinute }) => ({
        id: person,
        name,
        skills,
        pace,
        week: { weekdays, fromMinute, toMinute },
        off: times
          .filter((one) => one.person === null || one.person === person)
          .map(({ fromDay, toDay, fromMinute, toMinute }) => ({ fromDay, toDay, fromMinute, toMinute })),
      })),
    lifts: figures.bench.lifts,
    atTheBike: figures.bench.atTheBike,
    awayDays: figures.bench.awayDays,
    benchWork,
    effort: effort.kept,
    pins: pins.flatMap(({ bikeId, task, day, minute, doer }) => {
      const viewingNo = numberOf.get(bikeId)
      const start = unitOf(today, { day, minute })
      // A time that has gone by settles nothing any more.
      if (viewingNo === undefined || start < thisHour) return []
      return [{ task: `${viewingNo}/${task}`, start, person: doer }]
    }),
    bikes: bikes.map((bike): BikeForBench => {
      const facts = toWorkOut(bike, {
        shop,
        ownLimits: ownLimits.filter(({ bikeId }) => bikeId === bike.id),
        noted: noted(bike),
        now,
      })
      const due = promised.find(({ bikeId }) => bikeId === bike.id)?.day ?? null
      return {
        id: bike.id,
        viewingNo: bike.viewingNo,
        facts,
        ...timesAt(bike, now),
        ...waitsOf(awaited.get(bike.id), {
          today,
          orderDays: figures.bench.orderDays,
          underWay: new Set(runsUnderWay(bike).map(({ job }) => job)),
        }),
        // By the end of that day's work.
        due: due === null ? null : unitOf(today, { day: due, minute: figures.bench.toMinute }),
      }
    }),
  }
  return { bench, bikes }
}

function runsUnderWay({ jobRuns }: Pick<BikeWithFacts, 'jobRuns'>) {
  return jobRuns.filter(({ state }) => state === 'started' || state === 'paused')
}

/**
 * The unit at which the parts of each job are in, and the days until work that was given away is back. What nobody
 * ordered comes after the days that its supplier named, or else those of the shop; what is overdue, tomorrow. Who has
 * begun a job has what it needs.
 */
function waitsOf(
  awaited: Awaited | undefined,
  { today, orderDays, underWay }: { today: string; orderDays: number; underWay: ReadonlySet<string> },
): Pick<BikeForBench, 'partsIn' | 'backIn'> {
  const partsIn: Record<string, number> = {}
  for (const [job, parts] of awaited?.parts ?? []) {
    const days = parts
      .filter(({ state }) => state !== 'arrived')
      .map(({ dueOn, leadDays }) =>
        dueOn === null ? Math.ceil(leadDays ?? orderDays) : Math.max(1, daysBetween(today, dueOn)),
      )
    if (days.length > 0 && !underWay.has(job)) partsIn[job] = Math.max(...days) * unitsADay
  }
  const backIn: Record<string, number> = {}
  for (const { job, dueOn } of awaited?.sentOut ?? [])
    if (job !== null && dueOn !== null) backIn[job] = Math.max(1, daysBetween(today, dueOn))
  return { partsIn, backIn }
}

/** Hours worked on what is under way, and whose clock runs. */
function timesAt(bike: Pick<BikeWithFacts, 'jobRuns'>, now: Date) {
  const begun = runsUnderWay(bike)
  const spentHours: Record<string, number> = {}
  for (const { job, spells } of begun) {
    const minutes = spells.reduce((sum, spell) => sum + minutesOf(spell, now), 0)
    // To the quarter of an hour, so that the plan is not another each minute.
    spentHours[job] = (spentHours[job] ?? 0) + Math.round(minutes / 15) / 4
  }
  const running = begun.flatMap(({ job, spells }) =>
    spells.filter(({ endedAt }) => endedAt === null).map(({ personId }) => ({ job, person: personId })),
  )
  return { spentHours, running }
}
