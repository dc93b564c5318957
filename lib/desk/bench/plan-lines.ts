import { plan } from '../../core/plan/plan'
import { type PlanInput, planInput } from '../../core/plan/plan.input'
import { chanceFrom } from './chance'
import { planByHighs, planModel } from './highs-plan'
import { medianOf, took } from './measure'
import { projects } from './project-library'
import type { Extent, Line } from './table'

const few = 20

/** The order of work: small plans against a general solver, a shop's first plan against a good one. */
export async function planLines({ runs }: Extent): Promise<Line[]> {
  const byHighs = await planByHighs()
  const small = Array.from({ length: few }, (_, at) => smallPlan(at + 1))
  const models = small.map(planModel)
  const ours = medianOf(
    () => null,
    () => small.forEach((input) => void plan(input)),
    { warm: 3, runs },
  )
  let same = 0
  const theirs = took(() => {
    for (const [at, input] of small.entries())
      if (Math.abs(byHighs(input, models[at]) - plan(input).objective) < 1e-4) same++
  })
  const planFor = (effort: number) =>
    medianOf(
      (run) => ({ ...shopPlan(run + 1), effort }),
      (input) => void plan(input),
      { warm: 2, runs },
    )
  return [
    {
      what: `${few} plans of 6 tasks, proven best`,
      ours,
      reference: { name: `the same in \`highs\`, ${same} of ${few} with the same objective`, took: theirs },
    },
    {
      what: 'first plan of 30 bikes with 8 tasks, 3 people, 2 lifts, opening hours',
      ours: planFor(1),
      reference: { name: 'the same with 3,000 schedules', took: planFor(3000) },
    },
  ]
}

/** A table of its own: how far above the best known the plans of published projects are, where these lie at hand. */
export function* projectRows({ longRun }: Extent): Generator<string> {
  const all = projects()
  if (all === null) {
    yield 'Published projects: skipped, ../shared/check-values/psplib is not there.'
    return
  }
  yield '| published projects, mean of five seeds | schedules | above the best known | bound below it | a plan took |'
  yield '| --- | --- | --- | --- | --- |'
  for (const effort of longRun === null ? [5000] : [5000, 50_000]) {
    for (const [what, some] of [
      ['30 tasks', all.filter(({ tasks }) => tasks === 30)],
      ['60 and 120 tasks', all.filter(({ tasks }) => tasks > 30)],
    ] as const) {
      let above = 0
      let below = 0
      let ms = 0
      const count = some.length * 5
      for (const { input, best } of some) {
        for (const seed of [1, 2, 3, 4, 5]) {
          ms += took(() => {
            const { objective, lowerBound } = plan({ ...input, seed, effort })
            above += (objective / best - 1) / count
            below += (1 - lowerBound / best) / count
          }).cpu
        }
      }
      const percent = (share: number) => `${(100 * share).toFixed(2)} %`
      yield `| ${what} (${some.length}) | ${effort.toLocaleString('en')} | ${percent(above)} | ${percent(below)} | ${Math.round(ms / count)} ms |`
    }
  }
}

/** Three bikes of two tasks, one technician and one lift, small enough for a solver. */
function smallPlan(seed: number): PlanInput {
  const random = chanceFrom(seed)
  const upTo = (count: number) => Math.floor(count * random())
  return planInput.parse({
    objective: 'weighted-ready',
    resources: { technician: 1, lift: 1 },
    bikes: [0, 1, 2].map((bike) => ({
      id: `${bike}`,
      weight: 1 + upTo(9),
      release: upTo(4),
      tasks: [0, 1].map((task) => ({
        id: `${bike}.${task}`,
        duration: 1 + upTo(5),
        uses: { technician: upTo(3) > 0 ? 1 : 0, lift: upTo(2) },
        after: task === 0 ? [] : [`${bike}.0`],
      })),
    })),
  })
}

/** An invented shop: thirty bikes, each with work to open it, work within, perhaps a cure, and work to close it. */
export function shopPlan(seed: number): PlanInput {
  const random = chanceFrom(seed)
  const upTo = (count: number) => Math.floor(count * random())
  const crews = [['a', 'b', 'c'], ['a', 'b'], ['b', 'c'], ['a']]
  const open = Array.from({ length: 200 }, (_, day) => day)
    .filter((day) => day % 7 < 5)
    .map((day): [number, number] => [24 * day + 9, 24 * day + 17])
  return planInput.parse({
    objective: 'weighted-ready',
    calendars: { shop: open },
    pace: { b: 1.3 },
    resources: { a: 1, b: 1, c: 1, lift: 2 },
    bikes: Array.from({ length: 30 }, (_, bike) => {
      const id = (task: number) => `${bike}.${task}`
      return {
        id: `${bike}`,
        weight: 5 + upTo(30),
        release: upTo(3) > 0 ? 0 : upTo(80),
        tasks: Array.from({ length: 8 }, (_, task) => {
          const isWithin = task > 0 && task < 7
          const after = task === 0 ? [] : isWithin ? [id(upTo(task))] : [1, 2, 3, 4, 5, 6].map(id)
          if (isWithin && upTo(6) === 0) return { id: id(task), duration: 24, after }
          return {
            id: id(task),
            duration: 1 + upTo(5),
            by: crews[upTo(4)],
            uses: isWithin && upTo(2) === 0 ? { lift: 1 } : {},
            clock: 'shop',
            pausable: upTo(2) === 0,
            after,
          }
        }),
        holds: upTo(2) === 0 ? [{ resource: 'lift', from: id(0), to: id(7) }] : [],
      }
    }),
  })
}
