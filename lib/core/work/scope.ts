import { CalcProblem, type Path } from '../quantity/problem'
import { ClosureFlow } from './max-closure'
import type { ScopeInput } from './scope.input'

export interface Scope {
  /** Keys of the jobs to do, in the order of the input. */
  chosen: string[]
  /** Uplift less the cost of jobs and of the union of their operations, minor units. */
  value: number
  /** What is not done, and by how much the whole would be worth less with it forced in; null where it cannot be. */
  left: { key: string; shortBy: number | null }[]
  optimal: true
}

/**
 * Which jobs to do so that Σ uplift − Σ job cost − Σ cost of the union of their operations is largest: all `must`
 * jobs and what jobs `require` in, at most one of each group of `alternatives`, exactly one of each of `mustOneOf`.
 * Without groups this is a maximum closure and one minimum cut. Around it the groups are branched on, each branch
 * bounded by its cut without them, so that the answer is exact. Of equals the one with fewer jobs, then the one
 * whose first differing job stands earlier.
 * @throws CalcProblem where no set of jobs keeps all rules, naming rules that clash
 */
export function scope(input: ScopeInput): Scope {
  const { problem, root, best } = solved(input)
  return {
    ...answerOf(input, best),
    left: input.jobs.flatMap(({ key }, job) => {
      if (best.jobs.includes(job)) return []
      const withIt = bestOf(problem, narrowed(root, { into: [job], out: [] }))
      return [{ key, shortBy: withIt ? best.value - withIt.value : null }]
    }),
    optimal: true,
  }
}

/** The same choice without what is left and why, which takes a further solution for each job that is not done. */
export function scopeChosen(input: ScopeInput): Pick<Scope, 'chosen' | 'value'> {
  return answerOf(input, solved(input).best)
}

function solved(input: ScopeInput): { problem: Problem; root: Branch; best: Candidate } {
  const problem = problemOf(input)
  const root = { flow: rootFlow(problem), into: new Set<number>(), out: new Set<number>() }
  const best = bestOf(problem, root)
  if (!best) throw clashOf(input)
  return { problem, root, best }
}

function answerOf(input: ScopeInput, { jobs, value }: Candidate): Pick<Scope, 'chosen' | 'value'> {
  return { chosen: jobs.map((job) => input.jobs[job]!.key), value }
}

/** Jobs are the first nodes, then operations. */
interface Problem {
  jobs: number
  weights: number[]
  needs: number[][]
  musts: number[]
  atMostOne: number[][]
  exactlyOne: number[][]
}

/** What is settled so far: jobs in, jobs out, and the cut that this gives. */
interface Branch {
  flow: ClosureFlow
  into: ReadonlySet<number>
  out: ReadonlySet<number>
}

interface Candidate {
  value: number
  /** Ascending. */
  jobs: number[]
}

function problemOf(input: ScopeInput): Problem {
  const jobs = input.jobs.length
  const placeOfJob = new Map(input.jobs.map(({ key }, place) => [key, place]))
  const operations = Object.entries(input.operations)
  const placeOfOperation = new Map(operations.map(([key], place) => [key, jobs + place]))
  const places = (keys: readonly string[]) => keys.map((key) => placeOfJob.get(key)!)
  return {
    jobs,
    weights: [
      ...input.jobs.map(({ uplift, cost }) => uplift - cost),
      ...operations.map(([, { cost }]) => -cost),
    ],
    needs: [
      ...input.jobs.map((job) => [
        ...job.operations.map((key) => placeOfOperation.get(key)!),
        ...places(job.requires),
      ]),
      ...operations.map(([, { needs }]) => needs.map((key) => placeOfOperation.get(key)!)),
    ],
    musts: input.jobs.flatMap(({ must }, place) => (must ? [place] : [])),
    atMostOne: input.alternatives.map(places),
    exactlyOne: input.mustOneOf.map(places),
  }
}

function rootFlow({ weights, needs, musts }: Problem): ClosureFlow {
  const flow = ClosureFlow.of({ weights, needs })
  return musts.length > 0 ? flow.forced({ into: musts, out: [] }) : flow
}

function narrowed(
  branch: Branch,
  { into, out }: { into: readonly number[]; out: readonly number[] },
): Branch {
  return {
    flow: branch.flow.forced({ into, out }),
    into: new Set([...branch.into, ...into]),
    out: new Set([...branch.out, ...out]),
  }
}

/** Depth first, better bounds first; null where the branch holds no set that keeps the rules. */
function bestOf(problem: Problem, root: Branch): Candidate | null {
  let best: Candidate | null = null
  const visit = (branch: Branch, relaxed: Candidate): void => {
    if (best && !mayBeat(relaxed, best)) return
    const broken = firstBroken(problem, relaxed)
    if (!broken) {
      if (!best || isBetter(relaxed, best)) best = relaxed
      return
    }
    const parts = partsOf(problem, { branch, broken })
    for (const part of parts.sort((a, b) => b.relaxed.value - a.relaxed.value))
      visit(part.branch, part.relaxed)
  }
  const relaxed = relaxedOf(problem, root)
  if (relaxed) visit(root, relaxed)
  return best
}

/** The best closed set of a branch, groups left aside; null where what is forced in needs what is forced out. */
function relaxedOf(problem: Problem, { flow, into, out }: Branch): Candidate | null {
  const chosen = flow.chosen()
  for (const job of out) if (chosen[job]) return null
  for (const job of into) if (!chosen[job]) return null
  for (const job of problem.musts) if (!chosen[job]) return null
  let value = 0
  const jobs: number[] = []
  for (let node = 0; node < chosen.length; node++) {
    if (!chosen[node]) continue
    value += problem.weights[node]!
    if (node < problem.jobs) jobs.push(node)
  }
  return { value, jobs }
}

interface Broken {
  group: readonly number[]
  /** Exactly one is wanted, not at most one. */
  exactly: boolean
}

function firstBroken({ atMostOne, exactlyOne }: Problem, { jobs }: Candidate): Broken | null {
  const done = new Set(jobs)
  const count = (group: readonly number[]) => group.reduce((sum, job) => sum + (done.has(job) ? 1 : 0), 0)
  const exactly = exactlyOne.find((group) => count(group) !== 1)
  if (exactly) return { group: exactly, exactly: true }
  const atMost = atMostOne.find((group) => count(group) > 1)
  return atMost ? { group: atMost, exactly: false } : null
}

/** Each member alone in turn; where none need be in, also none of them. */
function partsOf(
  problem: Problem,
  { branch, broken: { group, exactly } }: { branch: Branch; broken: Broken },
): { branch: Branch; relaxed: Candidate }[] {
  const choices = group.map((job) => ({ into: [job], out: group.filter((other) => other !== job) }))
  if (!exactly) choices.push({ into: [], out: [...group] })
  return choices.flatMap((choice) => {
    if (choice.into.some((job) => branch.out.has(job)) || choice.out.some((job) => branch.into.has(job)))
      return []
    const part = narrowed(branch, choice)
    const relaxed = relaxedOf(problem, part)
    return relaxed ? [{ branch: part, relaxed }] : []
  })
}

/**
 * Whether a branch can hold something better. Its relaxed set is contained in every set of the same value, so with
 * an equal value only that very set, or one of more jobs, could tie.
 */
function mayBeat(relaxed: Candidate, best: Candidate): boolean {
  if (relaxed.value !== best.value) return relaxed.value > best.value
  return relaxed.jobs.length <= best.jobs.length
}

function isBetter(a: Candidate, b: Candidate): boolean {
  if (a.value !== b.value) return a.value > b.value
  if (a.jobs.length !== b.jobs.length) return a.jobs.length < b.jobs.length
  const at = a.jobs.findIndex((job, place) => job !== b.jobs[place])
  return at >= 0 && a.jobs[at]! < b.jobs[at]!
}

type Rule = { path: Path; says: string; without: (input: ScopeInput) => ScopeInput }

/** Rules that cannot all be kept: taken away one by one, the ones without which the rest can be. */
function clashOf(input: ScopeInput): CalcProblem {
  let standing = input
  const clash: Rule[] = []
  for (const rule of rulesOf(input)) {
    const fewer = rule.without(standing)
    if (isPossible(fewer)) clash.push(rule)
    else standing = fewer
  }
  return new CalcProblem(`These rules clash: ${clash.map(({ says }) => says).join('; ')}.`, {
    path: clash[0]?.path ?? [],
    hint: 'No set of jobs keeps them all. Take one of them back.',
  })
}

function rulesOf(input: ScopeInput): Rule[] {
  const named = (group: readonly string[]) => group.join(', ')
  const job = (at: number, change: Partial<ScopeInput['jobs'][number]>) => (given: ScopeInput) => ({
    ...given,
    jobs: given.jobs.map((one, place) => (place === at ? { ...one, ...change } : one)),
  })
  // A group that is emptied keeps its place, so that the places of the others stay true.
  const group = (key: 'alternatives' | 'mustOneOf', at: number) => (given: ScopeInput) => ({
    ...given,
    [key]: given[key].map((one, place) => (place === at ? [] : one)),
  })
  return [
    ...input.jobs.flatMap(({ key, must, requires }, at): Rule[] => [
      ...(must
        ? [{ path: ['jobs', at, 'must'], says: `${key} must be done`, without: job(at, { must: false }) }]
        : []),
      ...(requires.length > 0
        ? [
            {
              path: ['jobs', at, 'requires'],
              says: `${key} requires ${named(requires)}`,
              without: job(at, { requires: [] }),
            },
          ]
        : []),
    ]),
    ...input.alternatives.map(
      (of, at): Rule => ({
        path: ['alternatives', at],
        says: `at most one of ${named(of)}`,
        without: group('alternatives', at),
      }),
    ),
    ...input.mustOneOf.map(
      (of, at): Rule => ({
        path: ['mustOneOf', at],
        says: `exactly one of ${named(of)}`,
        without: group('mustOneOf', at),
      }),
    ),
  ]
}

function isPossible(input: ScopeInput): boolean {
  const problem = problemOf(input)
  const kept = { ...problem, exactlyOne: problem.exactlyOne.filter((group) => group.length > 0) }
  return bestOf(kept, { flow: rootFlow(kept), into: new Set(), out: new Set() }) !== null
}
