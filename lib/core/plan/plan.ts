import { sequence } from '../quantity/sequence'
import { lowerBound } from './bound'
import { firmerBound } from './bound-makespan'
import { readyTimes } from './cost'
import { searchAll } from './exact'
import { type Model, modelOf, nobody } from './model'
import type { PlanInput } from './plan.input'
import { nothingFits, refuseImpossible } from './refuse-impossible'
import { searchMakespan } from './search-makespan'
import { searchReady } from './search-ready'
import { type Firmer, type Found, Trials } from './trials'

export interface Plan {
  /** When each task starts, in time units from 0. */
  starts: Record<string, number>
  /** Who does each task that names people under `by`; left out where none does. */
  by?: Record<string, string>
  /** Σ weight · ready + latePerUnit · max(0, ready − due), or the last ready time. */
  objective: number
  /** Proven: no plan has a smaller objective. Equal to it, the plan is the best there is. */
  lowerBound: number
  /** When each bike is ready. */
  ready: Record<string, number>
  /** How many schedules were made to find it. */
  schedules: number
}

/**
 * The order of work: who does what and when, so that bikes are ready early by their weight, or all of it early. The
 * same input and seed give the same plan, and it keeps all that the input says: order, resources, calendars, holds,
 * pins. `effort` 1 is the quick first plan; what more of it finds is never worse.
 * @throws CalcProblem where a task fits in no open time, a pin cannot stand, or no plan was found that gets all done
 */
export function plan(input: PlanInput): Plan {
  const model = modelOf(input)
  model.pinnedWay = refuseImpossible(model, input)
  const { bound, hints } = lowerBound(model)
  const trials = new Trials(model, {
    most: input.effort,
    bound,
    firmer: firmerOf(model, { bound, effort: input.effort }),
  })
  const random = sequence(input.seed)
  const search = () =>
    model.objective === 'makespan'
      ? searchMakespan(trials, { random })
      : searchReady(trials, { random, hints })
  if (model.tasks <= few) settleAll(trials, search)
  if (!trials.over) search()
  if (trials.best === null) throw nothingFits(model)
  return answer(input, trials)
}

/** Fewer schedules leave no time for more than the quick bound. */
const leastForFirmer = 500
/** By then something good is known, and often that it is the best. */
const schedulesBeforeFirmer = 100

function firmerOf(model: Model, { bound, effort }: { bound: number; effort: number }): Firmer | null {
  if (model.objective !== 'makespan' || effort < leastForFirmer) return null
  return { after: schedulesBeforeFirmer, bound: (below) => firmerBound(model, { bound, below, effort }) }
}

/** Up to so many tasks every plan worth looking at is looked at. */
const few = 8
const nodesOfAll = 400_000
/** Schedules made by the search beforehand, so that little is left that promises better. */
const beforeAll = 60

function settleAll(trials: Trials, search: () => void): void {
  const { most } = trials
  trials.most = Math.min(most, beforeAll)
  if (!trials.over) search()
  trials.most = most
  if (trials.over) return
  const below = trials.best?.cost ?? Number.POSITIVE_INFINITY
  const better = (found: Found) => {
    trials.take(found)
    return !trials.over
  }
  if (!searchAll(trials.model, { below, nodes: nodesOfAll, better })) return
  if (trials.best === null) throw nothingFits(trials.model)
  trials.bound = trials.best.cost
}

function answer(input: PlanInput, { model, best, bound, made, isMet }: Trials): Plan {
  const found = best!
  const ready = readyTimes(model, found.finish)
  const names = Object.keys(input.resources)
  const by = model.ids.flatMap((id, task): [string, string][] => {
    const person = model.ways.person[found.way[task]!]!
    return person === nobody ? [] : [[id, names[person]!]]
  })
  return {
    starts: Object.fromEntries(model.ids.map((id, task) => [id, found.start[task]!])),
    ...(by.length > 0 ? { by: Object.fromEntries(by) } : {}),
    objective: found.cost,
    lowerBound: isMet ? found.cost : bound,
    ready: Object.fromEntries(input.bikes.map(({ id }, bike) => [id, ready[bike]!])),
    schedules: made,
  }
}
