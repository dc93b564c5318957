import { existsSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { type PlanInput, planInput } from '../../core/plan/plan.input'

const folder = fileURLToPath(new URL('../../../../shared/check-values/psplib/', import.meta.url))

export interface Project {
  name: string
  tasks: number
  /** The shortest makespan known, proven for those of 30 tasks. */
  best: number
  input: PlanInput
}

/**
 * Projects of the project scheduling problem library (Kolisch & Sprecher, European Journal of Operational Research 96,
 * 1996) where its files lie beside the project; null where they do not. Nothing of them is part of it.
 */
export function projects(): Project[] | null {
  const table = `${folder}optima.csv`
  if (!existsSync(table)) return null
  return readFileSync(table, 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => {
      const [, , name, jobs, , , best] = line.split(',')
      return {
        name: name!,
        tasks: Number(jobs) - 2,
        best: Number(best),
        input: projectOf(readFileSync(`${folder}${name}.sm`, 'utf8')),
      }
    })
}

/** The library's text form: successors of each task, then duration and needs of each, then capacities. */
export function projectOf(text: string): PlanInput {
  const lines = text.split(/\r?\n/)
  const below = (title: string, skip: number) => lines.findIndex((line) => line.startsWith(title)) + skip
  const numbersOf = (line: string) => (line.match(/\d+/g) ?? []).map(Number)
  const count = numbersOf(lines.find((line) => line.startsWith('jobs (incl.'))!).at(-1)!
  const table = (title: string, skip: number) => {
    const from = below(title, skip)
    return lines.slice(from, from + count).map(numbersOf)
  }
  const after = Array.from({ length: count }, (): string[] => [])
  for (const [job, , , ...successors] of table('PRECEDENCE RELATIONS', 2))
    for (const successor of successors) after[successor - 1]!.push(`${job}`)
  const capacities = numbersOf(lines[below('RESOURCEAVAILABILITIES', 2)]!)
  return planInput.parse({
    objective: 'makespan',
    resources: Object.fromEntries(capacities.map((capacity, at) => [`r${at}`, capacity])),
    bikes: [
      {
        id: 'project',
        tasks: table('REQUESTS/DURATIONS', 3).map(([job, , duration, ...amounts], at) => ({
          id: `${job}`,
          duration,
          after: after[at],
          uses: Object.fromEntries(amounts.map((amount, resource) => [`r${resource}`, amount])),
        })),
      },
    ],
  })
}
