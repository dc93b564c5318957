import { z } from 'zod'
import type { Figures } from '../core/board/figures.input'
import type { Catalogue } from '../core/checks/catalogue'
import { canBeLearned } from '../core/checks/hidden'
import { type Counted, learnedFrom } from '../core/checks/learned'
import { countLooks, routineLooks } from '../core/checks/learned-looks'
import type { Db } from '../data/store'
import { type Context, deed } from './deed'
import { readShopFacts, type ShopFacts } from './facts'
import { versionOf } from './fields'
import { readFigures, saveFigures } from './figures'
import { bikeToJudge } from './read-judged'
import { refuse } from './refusal'
import { toJudge } from './to-work-out'

/** Stands for every fault at once, where one is named otherwise. */
export const everyFault = 'all'

const faultOf = z.string().trim().min(1, 'Choose a fault.').max(80)

export const acceptLearnedInput = z.strictObject({
  version: versionOf,
  fault: faultOf,
  /** By fault the count that the person saw, as `countWritten` writes it: no other is accepted. */
  seen: z.record(z.string(), z.string()).default({}),
})

export const revertLearnedInput = z.strictObject({ version: versionOf, fault: faultOf })

/** A count as a form sends it back: "9/31". */
export function countWritten({ found, looked }: Counted): string {
  return `${found}/${looked}`
}

type Counts = { counts: ReadonlyMap<string, Counted>; shop: ShopFacts }

/**
 * Of every bike of the shop, by fault: on how many a look was done as routine, and on how many it found it. Bikes
 * that were passed up count too. Another request gets its turn between two bikes.
 */
async function countedHere(db: Db, now: Date): Promise<Counts> {
  const shop = await readShopFacts(db, now)
  const [bikes, limits] = await Promise.all([
    db.bike.findMany({ select: bikeToJudge, orderBy: { viewingNo: 'asc' } }),
    db.limit.findMany({ where: { scope: 'bike', withdrawnAt: null } }),
  ])
  const { catalogue, figures } = shop
  const looks: ReturnType<typeof routineLooks>[] = []
  for (const bike of bikes) {
    const ownLimits = limits.filter(({ bikeId }) => bikeId === bike.id)
    const { kind, readings, limits: held } = toJudge(bike, { shop, ownLimits, now })
    const work = bike.jobRuns.map(({ job, startedAt }) => ({ job, at: startedAt.toISOString() }))
    const looked = { kind, nonRunner: bike.nonRunner, readings, limits: held, work }
    looks.push(routineLooks(looked, { catalogue, ages: figures.tyreAges }))
    await new Promise((resolve) => setImmediate(resolve))
  }
  return { counts: countLooks(looks), shop }
}

export type LearnedShown = {
  fault: string
  title: string
  found: number
  looked: number
  /** Chances with the care states taken together, before age and refusals. */
  starting: number
  inForce: number
  /** What the count makes of the starting chance. */
  learned: number
}

export type LearnedPage = {
  version: number
  priorBikes: number
  /** Counts that nobody has accepted yet; what moves most stands first. */
  offered: readonly LearnedShown[]
  /** Counts that are in force, with the day until which they were counted. */
  accepted: readonly (LearnedShown & { until: string })[]
}

/** What the shop's own looks say of the chances that faults hide, and what of it is in force. */
export async function readLearned({ store, now }: Context): Promise<LearnedPage> {
  const { version } = await store.db.shop.findFirstOrThrow()
  const { counts, shop } = await countedHere(store.db, now)
  const { figures, catalogue } = shop
  const { hiddenFaults } = figures
  const byMove = (a: LearnedShown, b: LearnedShown) =>
    Math.abs(b.learned - b.inForce) - Math.abs(a.learned - a.inForce) || a.title.localeCompare(b.title)
  return {
    version,
    priorBikes: hiddenFaults.priorBikes,
    offered: [...offeredBy(counts, { figures, catalogue })]
      .flatMap(([fault, counted]) => shownOf(fault, counted, { figures, catalogue }))
      .sort(byMove),
    accepted: Object.entries(hiddenFaults.learned).flatMap(([fault, { until, ...counted }]) =>
      shownOf(fault, counted, { figures, catalogue }).map((shown) => ({ ...shown, until })),
    ),
  }
}

/** Counts of faults that can be learned and are not in force as they are. */
function offeredBy(
  counts: ReadonlyMap<string, Counted>,
  { figures, catalogue }: { figures: Figures; catalogue: Catalogue },
): Map<string, Counted> {
  const offered = catalogue.faults.flatMap((fault): [string, Counted][] => {
    const counted = counts.get(fault.key)
    const { [fault.key]: now } = figures.hiddenFaults.learned
    if (!counted || !canBeLearned(fault) || (now && countWritten(now) === countWritten(counted))) return []
    return [[fault.key, counted]]
  })
  return new Map(offered)
}

function shownOf(
  key: string,
  counted: Counted,
  { figures, catalogue }: { figures: Figures; catalogue: Catalogue },
): LearnedShown[] {
  const fault = catalogue.faults.find((one) => one.key === key)
  if (!fault?.hidden) return []
  const { care, hiddenFaults } = figures
  const { priorBikes, learned } = hiddenFaults
  const of = (count: Counted) => learnedFrom({ chance: fault.hidden!, care, priorBikes, counted: count })
  const { before, after } = of(counted)
  const { [key]: now } = learned
  const { found, looked } = counted
  const inForce = now ? of(now).after : before
  return [{ fault: key, title: fault.title, found, looked, starting: before, inForce, learned: after }]
}

const nothingOffered = () =>
  refuse('not-found', 'There is no count for that fault. Load the page again and look at what is offered.')

/**
 * Puts what was counted in the place of the starting chance, for one fault or for every one offered, under a new
 * number of the figures. Only what the person saw is accepted: bikes looked at since are told first.
 */
export const acceptLearned = deed('figures:change', acceptLearnedInput, {
  prepare: (_, { store, now }) => countedHere(store.db, now),
  work: async ({ version, fault, seen }, inside, { counts, shop }) => {
    const figures = await readFigures(inside.tx)
    const offered = offeredBy(counts, { figures, catalogue: shop.catalogue })
    const wanted = [...offered].filter(([key]) => fault === everyFault || key === fault)
    if (wanted.length === 0) return nothingOffered()
    if (wanted.some(([key, counted]) => seen[key] !== countWritten(counted))) {
      refuse('rule', 'More bikes were looked at since this page was drawn. Load it again and look once more.')
    }
    const until = shop.today
    const taken = Object.fromEntries(wanted.map(([key, counted]) => [key, { ...counted, until }]))
    const no = await saveLearned(inside, {
      version,
      reason: `Chances learned: ${titlesOf(Object.keys(taken), shop)}`,
      change: (before) => ({ ...before, ...taken }),
    })
    return {
      answer: { figuresNo: no, faults: Object.keys(taken) },
      event: { bikeId: null, body: { figures: no, set: ['learned'], learned: taken } },
    }
  },
})

/** Puts the starting chance back, for one fault or for all; what was worked out before keeps its figures. */
export const revertLearned = deed('figures:change', revertLearnedInput, {
  prepare: (_, { store, now }) => readShopFacts(store.db, now),
  work: async ({ version, fault }, inside, shop) => {
    const { hiddenFaults } = await readFigures(inside.tx)
    const gone = Object.keys(hiddenFaults.learned).filter((key) => fault === everyFault || key === fault)
    if (gone.length === 0) return refuse('not-found', 'Nothing learned is in force for that fault.')
    const no = await saveLearned(inside, {
      version,
      reason: `Back to the starting chance: ${titlesOf(gone, shop)}`,
      change: (before) => Object.fromEntries(Object.entries(before).filter(([key]) => !gone.includes(key))),
    })
    return {
      answer: { figuresNo: no, faults: gone },
      event: { bikeId: null, body: { figures: no, set: ['learned'], backToStart: gone } },
    }
  },
})

type Learned = Figures['hiddenFaults']['learned']

function saveLearned(
  inside: Parameters<typeof saveFigures>[0],
  { version, reason, change }: { version: number; reason: string; change: (before: Learned) => Learned },
): Promise<number> {
  return saveFigures(inside, {
    version,
    reason,
    theirs: () => ({}),
    change: (before) => {
      const { hiddenFaults } = before
      return { ...before, hiddenFaults: { ...hiddenFaults, learned: change(hiddenFaults.learned) } }
    },
  })
}

function titlesOf(keys: readonly string[], { catalogue }: Pick<ShopFacts, 'catalogue'>): string {
  if (keys.length > 3) return `${keys.length} faults`
  return keys.map((key) => catalogue.faults.find((one) => one.key === key)?.title ?? key).join(', ')
}
