import highsLoader from 'highs'
import type { PlanInput } from '../../core/plan/plan.input'

/**
 * The HiGHS solver, through its npm package, as a reference for plans with resources, order, releases, weights and
 * promises: a 0/1 variable for each task and each time it may start (Pritsker, Watters & Wolfe 1969, from memory).
 * Answers the least objective. Calendars, people, holds and pins are not in the model.
 */
export async function planByHighs(): Promise<(input: PlanInput, model?: string) => number> {
  const highs = await highsLoader()
  return (input, model = planModel(input)) => {
    const { Status, ObjectiveValue } = highs.solve(model, { output_flag: false, mip_rel_gap: 0 })
    if (Status !== 'Optimal') throw new Error(`the solver ended with ${Status}`)
    return ObjectiveValue
  }
}

/** In the LP format: x_t_s where task t starts at s, r_b when bike b is ready, l_b by how much it is late. */
export function planModel(input: PlanInput): string {
  const tasks = input.bikes.flatMap((bike, at) => bike.tasks.map((task) => ({ task, bike: at })))
  const placeOf = new Map(tasks.map(({ task }, at) => [task.id, at]))
  const releaseOf = ({ task, bike }: (typeof tasks)[number]) =>
    Math.max(task.release, input.bikes[bike]!.release)
  const horizon =
    Math.max(0, ...tasks.map(releaseOf)) + tasks.reduce((sum, { task }) => sum + task.duration, 0)
  const startsOf = tasks.map((one) => {
    const from = releaseOf(one)
    return Array.from({ length: horizon - one.task.duration - from + 1 }, (_, at) => from + at)
  })
  const ends = (task: number, sign: '+' | '-') =>
    startsOf[task]!.map((start) => `${sign} ${start + tasks[task]!.task.duration} x_${task}_${start}`)
  const begins = (task: number) => startsOf[task]!.map((start) => `+ ${start} x_${task}_${start}`)
  const rows = [
    ...tasks.map((_, at) => `${startsOf[at]!.map((start) => `+ x_${at}_${start}`).join(' ')} = 1`),
    ...tasks.flatMap(({ task }, at) =>
      task.after.map((id) => `${[...begins(at), ...ends(placeOf.get(id)!, '-')].join(' ')} >= 0`),
    ),
    ...tasks.map(({ bike }, at) => `r_${bike} ${ends(at, '-').join(' ')} >= 0`),
    ...input.bikes.map(({ release }, bike) => `r_${bike} >= ${release}`),
    ...input.bikes.flatMap(({ due }, bike) =>
      due === undefined ? [] : [`l_${bike} - r_${bike} >= ${-due}`],
    ),
    ...Object.entries(input.resources).flatMap(([name, resource]) =>
      Array.from({ length: horizon }, (_, time) => {
        const terms = tasks.flatMap(({ task }, at) => {
          const amount = task.uses[name] ?? 0
          return amount === 0
            ? []
            : startsOf[at]!.filter((start) => start <= time && time < start + task.duration).map(
                (start) => `+ ${amount} x_${at}_${start}`,
              )
        })
        const capacity = typeof resource === 'number' ? resource : resource.capacity
        return terms.length === 0 ? [] : [`${terms.join(' ')} <= ${capacity}`]
      }).flat(),
    ),
  ]
  const costs = input.bikes.flatMap(({ weight, due, latePerUnit }, bike) => [
    `+ ${weight} r_${bike}`,
    ...(due === undefined ? [] : [`+ ${latePerUnit} l_${bike}`]),
  ])
  return [
    'Minimize',
    ` obj: ${costs.join(' ')}`,
    'Subject To',
    ...rows.map((row, at) => ` c${at}: ${row}`),
    'Binary',
    ` ${startsOf.flatMap((starts, at) => starts.map((start) => `x_${at}_${start}`)).join(' ')}`,
    'End',
  ].join('\n')
}
