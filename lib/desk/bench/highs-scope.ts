import highsLoader from 'highs'
import type { ScopeInput } from '../../core/work/scope.input'

/**
 * The HiGHS solver, through its npm package, as a reference for scope: a general solver that gets the question as a
 * 0/1 model. Answers the keys of the jobs to do, or null where nothing keeps the rules; any other ending is an error.
 */
export async function scopeByHighs(): Promise<(input: ScopeInput, model?: string) => Set<string> | null> {
  const highs = await highsLoader()
  return (input, model = scopeModel(input)) => {
    if (input.jobs.length === 0) return new Set()
    const { Status, Columns } = highs.solve(model, { output_flag: false })
    if (Status === 'Infeasible') return null
    // For a text that is no model the status is Empty and nothing is thrown.
    if (Status !== 'Optimal') throw new Error(`the solver ended with ${Status}`)
    return new Set(
      input.jobs
        .filter((_, at) => Math.round((Columns[`j${at}`] as { Primal: number }).Primal) === 1)
        .map(({ key }) => key),
    )
  }
}

/** In the LP format: jobs j0…, operations o0…, all 0 or 1. */
export function scopeModel(input: ScopeInput): string {
  const operations = Object.keys(input.operations)
  const placeOfJob = new Map(input.jobs.map(({ key }, place) => [key, place]))
  const placeOfOperation = new Map(operations.map((key, place) => [key, place]))
  const o = (key: string) => `o${placeOfOperation.get(key)}`
  const j = (key: string) => `j${placeOfJob.get(key)}`
  const terms = [
    ...input.jobs.map(
      ({ uplift, cost }, at) => `${uplift - cost >= 0 ? '+' : '-'} ${Math.abs(uplift - cost)} j${at}`,
    ),
    ...operations.map((key) => `- ${input.operations[key]!.cost} ${o(key)}`),
  ]
  const rows = [
    ...input.jobs.flatMap((job) => [
      ...job.operations.map((key) => `${j(job.key)} - ${o(key)} <= 0`),
      ...job.requires.map((key) => `${j(job.key)} - ${j(key)} <= 0`),
      ...(job.must ? [`${j(job.key)} >= 1`] : []),
    ]),
    ...operations.flatMap((key) =>
      input.operations[key]!.needs.map((needed) => `${o(key)} - ${o(needed)} <= 0`),
    ),
    ...input.alternatives.map((group) => `${group.map(j).join(' + ')} <= 1`),
    ...input.mustOneOf.map((group) => `${group.map(j).join(' + ')} = 1`),
  ]
  const names = [...input.jobs.map((_, at) => `j${at}`), ...operations.map(o)]
  return [
    'Maximize',
    ` obj: ${terms.join(' ')}`,
    'Subject To',
    ` all: ${names.join(' + ')} >= 0`,
    ...rows.map((row, at) => ` r${at}: ${row}`),
    'Binary',
    ` ${names.join(' ')}`,
    'End',
  ].join('\n')
}
