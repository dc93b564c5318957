import { scope, scopeChosen } from '../../core/work/scope'
import type { ScopeInput } from '../../core/work/scope.input'
import { randomScope } from './bikes'
import { scopeByHighs, scopeModel } from './highs-scope'
import { medianOf } from './measure'
import type { Extent, Line } from './table'

const size = { jobs: 40, operations: 25 }

/** Which jobs pay, against the same bikes as models for a general solver, whose text is made beforehand. */
export async function scopeLines({ runs, scopes }: Extent): Promise<Line[]> {
  const byHighs = await scopeByHighs()
  const lines: Line[] = []
  for (const requires of [false, true]) {
    const bikes = possibleBikes(scopes, { ...size, requires }, byHighs)
    const models = bikes.map(scopeModel)
    const each = (work: (bike: ScopeInput, at: number) => void) => () => bikes.forEach(work)
    const how = { warm: 5, runs: Math.max(5, runs) }
    const ours = medianOf(() => null, each(scopeChosen), how)
    const withReasons = medianOf(() => null, each(scope), how)
    const theirs = medianOf(
      () => null,
      each((bike, at) => byHighs(bike, models[at])),
      { warm: 1, runs: 3 },
    )
    const reference = { name: 'the same model in `highs`', took: theirs }
    const extra = requires ? ', a quarter of the jobs requiring another' : ''
    const what = `scope of ${bikes.length} bikes, 40 jobs, 25 operations, up to 3 alternative pairs${extra}`
    lines.push({ what, ours, reference })
    lines.push({ what: `the same with reasons (\`left\`)`, ours: withReasons, reference })
  }
  return lines
}

/** Bikes from the seeds 1, 2, … on, without those whose rules clash. */
function possibleBikes(
  count: number,
  how: { jobs: number; operations: number; requires: boolean },
  byHighs: (input: ScopeInput) => Set<string> | null,
): ScopeInput[] {
  const bikes: ScopeInput[] = []
  for (let seed = 1; bikes.length < count; seed++) {
    const bike = randomScope(seed, how)
    if (byHighs(bike) !== null) bikes.push(bike)
  }
  return bikes
}
