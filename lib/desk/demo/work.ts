import { uuidv7 } from 'uuidv7'
import type { Context } from '../../shop/deed'
import { declareOpen, finishJob, pauseJob, putBack, startJob } from '../../shop/job-runs'
import { askManager } from '../../shop/questions'
import { rideIn, rideOut } from '../../shop/rides'
import { notePart, noteSpend } from '../../shop/spends'
import { must } from './must'
import type { Happening } from './story'

type Told = { bike: string; context: Context }

const hourMs = 3_600_000

/** Work on a bike, what it leaves open, what it asks, and rides. */
export async function tellWork(
  happening: Extract<
    Happening,
    { did: 'start' | 'pause' | 'finish' | 'part' | 'spend' | 'open' | 'put back' | 'ask' | 'ride' }
  >,
  { bike, context }: Told,
): Promise<void> {
  const { db } = context.store
  const runOf = (job: string) =>
    db.jobRun.findFirstOrThrow({ where: { bikeId: bike, job }, orderBy: { startedAt: 'desc' } })
  switch (happening.did) {
    case 'start': {
      const { job, opens = [], budgetHours = '', stopOn = '' } = happening
      must(await startJob({ run: uuidv7(), bike, job, opens, budgetHours, stopOn }, context))
      return
    }
    case 'pause': {
      const { id: run, version } = await runOf(happening.job)
      must(await pauseJob({ run, version }, context))
      return
    }
    case 'finish': {
      const { id: run, version } = await runOf(happening.job)
      const { minutes, note = '' } = happening
      must(await finishJob({ run, version, minutes, note }, context))
      return
    }
    case 'part': {
      const { did: _, daysAgo: __, who: ___, job, ...part } = happening
      const { id: run } = await runOf(job)
      must(await notePart({ id: uuidv7(), bike, run, ...part }, context))
      return
    }
    case 'spend': {
      const { did: _, daysAgo: __, who: ___, job, ...spend } = happening
      const run = job === undefined ? null : (await runOf(job)).id
      must(await noteSpend({ id: uuidv7(), bike, run, ...spend }, context))
      return
    }
    case 'open': {
      const { kind, note = '' } = happening
      must(await declareOpen({ id: uuidv7(), bike, kind, note }, context))
      return
    }
    case 'put back': {
      const { kind } = happening
      const state = await db.openState.findFirstOrThrow({ where: { bikeId: bike, kind, putBackAt: null } })
      must(await putBack({ state: state.id, version: state.version, inOrder: 'yes' }, context))
      return
    }
    case 'ask': {
      const { did: _, daysAgo: __, who: ___, job, ...asked } = happening
      const { id: run } = await runOf(job)
      must(await askManager({ question: uuidv7(), bike, run, ...asked }, context))
      return
    }
    case 'ride': {
      const { purpose, papers, out, back, hours, note = '' } = happening
      const ride = uuidv7()
      const unit = (await db.bike.findUniqueOrThrow({ where: { id: bike } })).distanceUnit
      must(await rideOut({ ride, bike, purpose, ...papers, unit, distanceOut: out }, context))
      const { version } = await db.ride.findUniqueOrThrow({ where: { id: ride } })
      const home = { ...context, now: new Date(context.now.getTime() + hours * hourMs) }
      must(await rideIn({ ride, version, distanceIn: back, note }, home))
    }
  }
}
