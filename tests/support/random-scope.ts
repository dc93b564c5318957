import fc from 'fast-check'
import type { ScopeInput } from '../../lib/core/work/scope.input'

/** Bikes with jobs and shared operations as the schema hands them on; small amounts, so that ties happen. */
export function scopeInputs(most: {
  jobs: number
  operations: number
  groups: number
}): fc.Arbitrary<ScopeInput> {
  const size = fc.record({
    jobs: fc.integer({ min: 0, max: most.jobs }),
    operations: fc.integer({ min: 0, max: most.operations }),
  })
  return size.chain(({ jobs, operations }) => {
    const operation = (index: number) => `op${index}`
    const job = (index: number) => `job${index}`
    const some = (names: string[], maxLength: number) =>
      fc.subarray(names, { maxLength: Math.min(maxLength, names.length) })
    const names = (count: number, of: (index: number) => string) =>
      Array.from({ length: count }, (_, at) => of(at))
    const group = some(names(jobs, job), 3).filter((members) => members.length > 0)
    const groups = jobs === 0 ? fc.constant<string[][]>([]) : fc.array(group, { maxLength: most.groups })
    return fc.record({
      operations: fc
        .tuple(
          ...names(operations, operation).map((_, at) =>
            fc.record({ cost: fc.integer({ min: 0, max: 12 }), needs: some(names(at, operation), 2) }),
          ),
        )
        .map((list) => Object.fromEntries(list.map((one, at) => [operation(at), one]))),
      jobs: fc.tuple(
        ...names(jobs, job).map((key, at) =>
          fc.record({
            key: fc.constant(key),
            cost: fc.integer({ min: 0, max: 10 }),
            uplift: fc.integer({ min: 0, max: 20 }),
            operations: some(names(operations, operation), 3),
            must: fc.integer({ min: 0, max: 9 }).map((draw) => draw === 0),
            requires: fc
              .tuple(fc.integer({ min: 0, max: 4 }), some(names(at, job), 1))
              .map(([draw, required]) => (draw === 0 ? required : [])),
          }),
        ),
      ),
      alternatives: groups,
      mustOneOf: fc.tuple(fc.integer({ min: 0, max: 2 }), groups).map(([draw, of]) => (draw === 0 ? of : [])),
    })
  })
}

/** What a set of jobs is worth, and whether it keeps the rules: written the plain way. */
export function worthOf(input: ScopeInput, chosen: ReadonlySet<string>): { value: number; keeps: boolean } {
  const open = [...input.jobs.filter(({ key }) => chosen.has(key)).flatMap(({ operations }) => operations)]
  const done = new Set<string>()
  for (let key = open.pop(); key !== undefined; key = open.pop()) {
    if (done.has(key)) continue
    done.add(key)
    open.push(...input.operations[key]!.needs)
  }
  const jobs = input.jobs.filter(({ key }) => chosen.has(key))
  const value =
    jobs.reduce((sum, { uplift, cost }) => sum + uplift - cost, 0) -
    [...done].reduce((sum, key) => sum + input.operations[key]!.cost, 0)
  const count = (group: readonly string[]) => group.filter((key) => chosen.has(key)).length
  const keeps =
    input.jobs.every(({ key, must }) => !must || chosen.has(key)) &&
    jobs.every(({ requires }) => requires.every((key) => chosen.has(key))) &&
    input.alternatives.every((group) => count(group) <= 1) &&
    input.mustOneOf.every((group) => count(group) === 1)
  return { value, keeps }
}
