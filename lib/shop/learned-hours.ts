import { z } from 'zod'
import type { Figures } from '../core/board/figures.input'
import { besideEstimate, type DoneBeside, type DoneJob, hoursFactor } from '../core/work/learned-hours'
import type { Db } from '../data/store'
import { readCatalogue } from './catalogue'
import { type Context, deed } from './deed'
import { versionOf } from './fields'
import { readFigures, saveFigures } from './figures'
import { dayIn } from './instants'
import { refuse } from './refusal'
import { minutesOf } from './spells'

/** So many times a job must have been done here before a factor is offered. */
const leastJobs = 3

const jobOf = z.string().trim().min(1, 'Choose a job.').max(80)

export const acceptHoursInput = z.strictObject({
  version: versionOf,
  job: jobOf,
  /** How often it was done when the page was drawn: no other count is accepted. */
  seen: z.coerce.number().int().min(1),
})

export const revertHoursInput = z.strictObject({ version: versionOf, job: jobOf })

/** Every job that was done to its end, with the hours of all who were at it, in the order in which they began. */
async function doneJobs(db: Db, zone: string): Promise<DoneJob[]> {
  const runs = await db.jobRun.findMany({
    where: { state: 'done', endedAt: { not: null } },
    include: { spells: true },
    orderBy: [{ startedAt: 'asc' }, { id: 'asc' }],
  })
  return runs.map(({ bikeId, job, endedAt, spells }) => ({
    bike: bikeId,
    job,
    hours: spells.reduce((sum, spell) => sum + minutesOf(spell, endedAt!), 0) / 60,
    endedOn: dayIn(zone, endedAt!),
  }))
}

type Read = { done: DoneBeside[]; figures: Figures; zone: string; version: number }

async function readDone(db: Db): Promise<Read> {
  const [shop, figures, catalogue] = await Promise.all([
    db.shop.findFirstOrThrow(),
    readFigures(db),
    readCatalogue(db),
  ])
  const done = besideEstimate({
    done: await doneJobs(db, shop.zone),
    catalogue,
    fasteners: figures.fasteners,
  })
  return { done, figures, zone: shop.zone, version: shop.version }
}

export type HoursShown = {
  job: string
  title: string
  /** How often it was done. */
  times: number
  /** Means, hours. */
  expected: number
  took: number
  /** In force now; 1 where nothing was accepted. */
  inForce: number
  /** What the jobs done so far make of it. */
  learned: number
}

export type MonthShown = {
  /** YYYY-MM. */
  month: string
  jobs: number
  inside: number
  /** Mean of the scores, hours. */
  crps: number
}

export type LearnedHoursPage = {
  version: number
  priorJobs: number
  leastJobs: number
  /** Jobs done of which a time was noted. */
  jobs: number
  /** Of these, as many took what eight of ten are expected to take. */
  inside: number
  months: readonly MonthShown[]
  offered: readonly HoursShown[]
  accepted: readonly (HoursShown & { until: string })[]
  /** Done too seldom for an offer. */
  tooFew: number
}

/** What the hours of jobs done here say of those expected, and how good the ranges were. */
export async function readLearnedHours({ store }: Pick<Context, 'store'>): Promise<LearnedHoursPage> {
  const { done, figures, version } = await readDone(store.db)
  const { priorJobs, learned } = figures.learnedHours
  const shown = byJob(done).map((jobs): HoursShown => shownOf(jobs, figures))
  const isOffered = ({ times, learned: factor, inForce }: HoursShown) =>
    times >= leastJobs && Math.abs(factor - inForce) > 0.005
  const months = [...new Set(done.map(({ endedOn }) => endedOn.slice(0, 7)))].sort()
  return {
    version,
    priorJobs,
    leastJobs,
    jobs: done.length,
    inside: done.filter(({ isInside }) => isInside).length,
    months: months.map((month) => {
      const of = done.filter(({ endedOn }) => endedOn.startsWith(month))
      return {
        month,
        jobs: of.length,
        inside: of.filter(({ isInside }) => isInside).length,
        crps: of.reduce((sum, { crps }) => sum + crps, 0) / of.length,
      }
    }),
    offered: shown
      .filter(isOffered)
      .sort((a, b) => Math.abs(Math.log(b.learned / b.inForce)) - Math.abs(Math.log(a.learned / a.inForce))),
    accepted: shown.flatMap((one) => {
      const { [one.job]: own } = learned
      return own ? [{ ...one, until: own.until }] : []
    }),
    tooFew: shown.filter(({ times }) => times < leastJobs).length,
  }
}

function byJob(done: readonly DoneBeside[]): DoneBeside[][] {
  const groups = new Map<string, DoneBeside[]>()
  for (const one of done) groups.set(one.job, [...(groups.get(one.job) ?? []), one])
  return [...groups.values()]
}

function shownOf(done: readonly DoneBeside[], { learnedHours }: Figures): HoursShown {
  const { job, title } = done[0]!
  const mean = (of: (one: DoneBeside) => number) => done.reduce((sum, one) => sum + of(one), 0) / done.length
  return {
    job,
    title,
    times: done.length,
    expected: mean(({ expected }) => expected),
    took: mean(({ hours }) => hours),
    inForce: learnedHours.learned[job]?.factor ?? 1,
    learned: hoursFactor({
      ratios: done.map(({ hours, expected }) => hours / expected),
      priorJobs: learnedHours.priorJobs,
    }),
  }
}

/** Puts the hours learned for one job in force, under a new number of the figures. */
export const acceptHours = deed('figures:change', acceptHoursInput, {
  prepare: (_, { store, now }) =>
    readDone(store.db).then((read) => ({ ...read, today: dayIn(read.zone, now) })),
  work: async ({ version, job, seen }, inside, { done, today }) => {
    const of = done.filter((one) => one.job === job)
    if (of.length < leastJobs)
      return refuse('not-found', 'Nothing is offered for that job. Load the page again and look.')
    if (of.length !== seen)
      return refuse('rule', 'It was done again since this page was drawn. Load it again and look once more.')
    const { title, learned: factor, times } = shownOf(of, await readFigures(inside.tx))
    const no = await saveHours(inside, {
      version,
      reason: `Hours learned: ${title}`,
      change: (before) => ({ ...before, [job]: { factor, jobs: times, until: today } }),
    })
    return {
      answer: { figuresNo: no },
      event: { bikeId: null, body: { figures: no, set: ['learnedHours'], job, factor } },
    }
  },
})

/** Puts the hours of the catalogue back for one job; what was worked out before keeps its figures. */
export const revertHours = deed('figures:change', revertHoursInput, async ({ version, job }, inside) => {
  const { learnedHours } = await readFigures(inside.tx)
  if (!learnedHours.learned[job]) return refuse('not-found', 'Nothing learned is in force for that job.')
  const no = await saveHours(inside, {
    version,
    reason: 'Back to the hours of the catalogue',
    change: (before) => Object.fromEntries(Object.entries(before).filter(([key]) => key !== job)),
  })
  return {
    answer: { figuresNo: no },
    event: { bikeId: null, body: { figures: no, set: ['learnedHours'], backToCatalogue: job } },
  }
})

type Learned = Figures['learnedHours']['learned']

function saveHours(
  inside: Parameters<typeof saveFigures>[0],
  { version, reason, change }: { version: number; reason: string; change: (before: Learned) => Learned },
): Promise<number> {
  return saveFigures(inside, {
    version,
    reason,
    theirs: () => ({}),
    change: (before) => ({
      ...before,
      learnedHours: { ...before.learnedHours, learned: change(before.learnedHours.learned) },
    }),
  })
}
