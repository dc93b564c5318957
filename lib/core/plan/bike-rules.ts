import type { Model } from './model'
import { leastDuration, tails } from './orders'

/** What each bike asks for: its longest way through, and the time it takes of the resource it presses hardest. */
interface Load {
  way: Float64Array
  work: Float64Array
}

/**
 * Rules by which bikes go first: by weight over work as for one machine (Smith 1956), over the longest way, over
 * both, and the same counting a promise that is near (after the apparent tardiness cost of Vepsalainen and Morton
 * 1987). Each gives an urgency of every task: its bike's, and within the bike by the way that is left.
 */
export function bikeRules(model: Model): Float64Array[] {
  const load = loadOf(model)
  const shares = [1, 0.5, 0]
  return shares.flatMap((share) => {
    const plain = urgencyOf(model, { load, share, promises: false })
    const anyDue = model.bikes.late.some((late) => late > 0)
    return anyDue ? [urgencyOf(model, { load, share, promises: true }), plain] : [plain]
  })
}

function urgencyOf(
  model: Model,
  { load, share, promises }: { load: Load; share: number; promises: boolean },
): Float64Array {
  const { bikes } = model
  const all = load.work.reduce((sum, one) => sum + one, 0)
  const score = Float64Array.from(bikes.weight, (weight, bike) => {
    const length = share * load.work[bike]! + (1 - share) * load.way[bike]!
    const slack = bikes.due[bike]! - bikes.release[bike]! - load.way[bike]!
    const pressing = promises ? bikes.late[bike]! * Math.exp(-Math.max(0, slack) / (all / 4 + 1)) : 0
    return (weight + pressing) / Math.max(1e-9, length)
  })
  return rankedUrgency(model, score)
}

/** The bike with the highest score first with all its tasks. */
export function rankedUrgency(model: Model, score: Float64Array): Float64Array {
  const ranked = Array.from(score.keys()).sort((a, b) => score[b]! - score[a]! || a - b)
  const tail = tails(model)
  const longest = 1 + tail.reduce((most, one) => Math.max(most, one), 0)
  const rank = new Float64Array(ranked.length)
  ranked.forEach((bike, at) => {
    rank[bike] = ranked.length - at
  })
  return tail.map((way, task) => rank[model.bikeOf[task]!]! * longest + way)
}

function loadOf(model: Model): Load {
  const { bikes, bikeOf, capacity, needs, ways } = model
  const tail = tails(model)
  const way = new Float64Array(bikes.count)
  const taken = Array.from({ length: bikes.count }, () => new Float64Array(capacity.length + 1))
  // Whoever is named under `by` counts as one of a crew of all who are.
  const crew = new Set(ways.person.filter((person) => person >= 0)).size
  for (let task = 0; task < model.tasks; task++) {
    const bike = bikeOf[task]!
    const duration = leastDuration(task, ways)
    way[bike] = Math.max(way[bike]!, tail[task]!)
    for (let at = needs.first[task]!; at < needs.first[task + 1]!; at++)
      taken[bike]![needs.all[at]!]! += (duration * needs.amount[at]!) / capacity[needs.all[at]!]!
    if (ways.person[ways.first[task]!]! >= 0) taken[bike]![capacity.length]! += duration / crew
  }
  return { way, work: Float64Array.from(taken, (each) => each.reduce((most, one) => Math.max(most, one), 0)) }
}
