import type { Choice, Unit, Work } from './work'

/**
 * All outcomes of the uncertain jobs, merged: jobs are gone through one after another, and what has happened so far
 * matters only by the operations that are already needed and that later jobs could need too. Each set of such
 * operations is one state.
 */
export interface Outcomes {
  /** Operations and jobs that are done for certain. */
  certain: readonly Unit[]
  /** Groups of choices that share no uncertain operation: independent of each other. */
  parts: readonly OutcomePart[]
}

export interface OutcomePart {
  /** What can be added: jobs, and operations that the same jobs need taken together. */
  units: readonly (readonly Unit[])[]
  /** Units (by place) that are added together. */
  products: readonly (readonly number[])[]
  steps: readonly Step[]
  /** The most states at any step. */
  widest: number
  jobs: readonly number[]
}

/** One choice settled: from each state to others, each link by one of the ways. After the last step one state is left. */
export interface Step {
  choice: Choice
  ways: readonly Way[]
  from: Int32Array
  to: Int32Array
  way: Int32Array
  states: number
}

/** What may happen on a link: nothing, or jobs of the choice with what they add. */
export interface Way {
  nothing: boolean
  takes: readonly { job: number; product: number }[]
}

/** Null where some part has more states than `limit`. */
export function outcomesOf(work: Work, limit: number): Outcomes | null {
  const happens = (job: number) => work.chances.some((chances) => chances[job]! > 0)
  const surely = (job: number) => work.chances.every((chances) => chances[job] === 1)
  const certainJobs = new Set([...work.jobs.keys()].filter(surely))
  const open = work.choices
    .filter((choice) => !choice.jobs.some((job) => certainJobs.has(job)))
    .map((choice) => ({ jobs: choice.jobs.filter(happens) }))
    .filter((choice) => choice.jobs.length > 0)

  const done = new Set([
    ...[...certainJobs].flatMap((job) => work.closures[job]!),
    // Whichever job of a symptom that is real is the one, what all of them need is done.
    ...open.filter((choice) => isSure(choice, work.chances)).flatMap(({ jobs }) => neededByAll(work, jobs)),
  ])
  const bundles = bundlesOf(work, done, new Set(open.flatMap((choice) => choice.jobs)))
  const parts = apart(open, bundles).map((choices) => partOf(choices, { work, bundles, limit }))
  if (parts.some((part) => part === null)) return null
  return {
    certain: [
      ...[...done].map((place) => work.operations[place]!),
      ...[...certainJobs].map((job) => work.jobs[job]!),
    ],
    parts: parts as OutcomePart[],
  }
}

/** One of its jobs happens, whatever the care; the shares of a group sum to 1 within 1e-9 only. */
export function isSure({ jobs }: Choice, chances: readonly (readonly number[])[]): boolean {
  return chances.every((ofJobs) => jobs.reduce((sum, job) => sum + ofJobs[job]!, 0) > 1 - 1e-9)
}

function neededByAll({ closures }: Work, [first, ...others]: readonly number[]): number[] {
  return closures[first!]!.filter((operation) => others.every((job) => closures[job]!.includes(operation)))
}

/** Uncertain operations that exactly the same jobs need; they are done together or not at all. */
interface Bundle {
  operations: Unit[]
  jobs: readonly number[]
}

function bundlesOf(work: Work, done: ReadonlySet<number>, jobs: ReadonlySet<number>): Bundle[] {
  const bundles = new Map<string, Bundle>()
  work.operations.forEach((operation, place) => {
    const needing = operation.jobs.filter((job) => jobs.has(job))
    if (done.has(place) || needing.length === 0) return
    const key = needing.join()
    const bundle = bundles.get(key) ?? { operations: [], jobs: needing }
    bundle.operations.push(operation)
    bundles.set(key, bundle)
  })
  return [...bundles.values()]
}

/** Choices that have to do with each other through a bundle, directly or by way of others. */
function apart(choices: readonly Choice[], bundles: readonly Bundle[]): Choice[][] {
  const groupOf = new Map(choices.map((choice) => [choice, [choice]]))
  const choiceOf = new Map(choices.flatMap((choice) => choice.jobs.map((job) => [job, choice] as const)))
  for (const bundle of bundles) {
    const first = groupOf.get(choiceOf.get(bundle.jobs[0]!)!)!
    for (const job of bundle.jobs) {
      const other = groupOf.get(choiceOf.get(job)!)!
      if (other === first) continue
      first.push(...other)
      for (const choice of other) groupOf.set(choice, first)
    }
  }
  return [...new Set(groupOf.values())]
}

function partOf(
  choices: readonly Choice[],
  { work, bundles, limit }: { work: Work; bundles: readonly Bundle[]; limit: number },
): OutcomePart | null {
  const jobs = choices.flatMap((choice) => choice.jobs)
  const within = new Set(jobs)
  const own = bundles.filter((bundle) => within.has(bundle.jobs[0]!))
  const needs = new Map<number, number[]>(jobs.map((job) => [job, []]))
  own.forEach((bundle, place) => {
    for (const job of bundle.jobs) needs.get(job)!.push(place)
  })
  const needsOf = (choice: Choice) => [...new Set(choice.jobs.flatMap((job) => needs.get(job)!))]
  const made = bestOf(
    goodOrders(choices, needsOf),
    (ordered, widest) => stepsOf(ordered, { work, needs, bundleCount: own.length, limit: widest }),
    limit,
  )
  if (!made) return null
  return {
    ...made,
    units: [...own.map((bundle) => bundle.operations), ...made.jobs.map((job) => [work.jobs[job]!])],
  }
}

function stepsOf(
  ordered: readonly Choice[],
  {
    work,
    needs,
    bundleCount,
    limit,
  }: {
    work: Work
    needs: ReadonlyMap<number, readonly number[]>
    bundleCount: number
    limit: number
  },
) {
  const lastUse = new Map<number, number>()
  ordered.forEach((choice, step) => {
    for (const job of choice.jobs) for (const bundle of needs.get(job)!) lastUse.set(bundle, step)
  })
  const jobs = ordered.flatMap((choice) => choice.jobs)
  const unitOfJob = new Map(jobs.map((job, place) => [job, bundleCount + place]))
  const maskOf = (bundles: readonly number[]) =>
    bundles.reduce((mask, bundle) => mask | (1n << BigInt(bundle)), 0n)
  const products: number[][] = []
  const steps: Step[] = []
  let states = [0n]
  let widest = 1
  for (const [step, choice] of ordered.entries()) {
    const kept = maskOf([...lastUse].filter(([, last]) => last > step).map(([bundle]) => bundle))
    const mayBeNothing = work.chances.some(
      (chances) => choice.jobs.reduce((sum, job) => sum + chances[job]!, 0) < 1,
    )
    const next = new Map<bigint, number>()
    const ways = new Map<string, { place: number; way: Way }>()
    const productOf = new Map<string, number>()
    const from: number[] = []
    const to: number[] = []
    const wayOf: number[] = []
    const options = choice.jobs.map((job) => ({ job, mask: maskOf(needs.get(job)!) }))
    states.forEach((state, place) => {
      const links = new Map<
        bigint,
        { nothing: boolean; takes: { job: number; product: number }[]; key: string }
      >()
      if (mayBeNothing) links.set(state & kept, { nothing: true, takes: [], key: '-' })
      for (const { job, mask } of options) {
        const added = mask & ~state
        const productKey = `${job}:${added}`
        let product = productOf.get(productKey)
        if (product === undefined) {
          product = products.length
          productOf.set(productKey, product)
          products.push([
            unitOfJob.get(job)!,
            ...needs.get(job)!.filter((bundle) => (added >> BigInt(bundle)) & 1n),
          ])
        }
        const target = (state | mask) & kept
        const link = links.get(target) ?? { nothing: false, takes: [], key: '' }
        link.takes.push({ job, product })
        link.key += `,${product}`
        links.set(target, link)
      }
      for (const [target, { key, ...way }] of links) {
        let number = next.get(target)
        if (number === undefined) {
          number = next.size
          next.set(target, number)
        }
        let known = ways.get(key)
        if (!known) {
          known = { place: ways.size, way }
          ways.set(key, known)
        }
        from.push(place)
        to.push(number)
        wayOf.push(known.place)
      }
    })
    states = [...next.keys()]
    widest = Math.max(widest, states.length)
    if (widest > limit) return null
    steps.push({
      choice,
      ways: [...ways.values()].map(({ way }) => way),
      from: Int32Array.from(from),
      to: Int32Array.from(to),
      way: Int32Array.from(wayOf),
      states: states.length,
    })
  }
  return { steps, products, widest, jobs }
}

/** States enough that another order is worth a try. */
const manyStates = 512

function bestOf<T extends { widest: number }>(
  orders: readonly Choice[][],
  make: (order: Choice[], limit: number) => T | null,
  limit: number,
): T | null {
  let best: T | null = null
  for (const order of orders) {
    best = make(order, best ? best.widest - 1 : limit) ?? best
    if (best && best.widest <= manyStates) break
  }
  return best
}

/**
 * The fewer operations stand open between two steps, the fewer states. Greedy: next comes the choice that leaves the
 * fewest open; from several beginnings, the least sum of 2^open first, then from the choice that needs most.
 */
function goodOrders(choices: readonly Choice[], needsOf: (choice: Choice) => readonly number[]): Choice[][] {
  if (choices.length < 3) return [[...choices]]
  const needs = choices.map(needsOf)
  const uses = new Map<number, number>()
  for (const bundle of needs.flat()) uses.set(bundle, (uses.get(bundle) ?? 0) + 1)
  const largest = needs.reduce((best, here, place) => (here.length > needs[best]!.length ? place : best), 0)
  const beginnings = new Set([largest])
  for (let first = 0; first < choices.length; first += Math.ceil(choices.length / 12)) beginnings.add(first)
  const [fromLargest, ...others] = [...beginnings].map((first) => greedy(first, needs, uses))
  // The sum is a bound only: from the largest it is often far from what comes out.
  const [best, ...next] = others.sort((a, b) => a.work - b.work)
  return [best!, fromLargest!, ...next.slice(0, 3)].map(({ order }) => order.map((place) => choices[place]!))
}

function greedy(first: number, needs: readonly (readonly number[])[], uses: ReadonlyMap<number, number>) {
  const left = new Map(uses)
  const open = new Set<number>()
  const waiting = new Set(needs.keys())
  const order: number[] = []
  let work = 0
  const take = (place: number) => {
    for (const bundle of needs[place]!) {
      const now = left.get(bundle)! - 1
      left.set(bundle, now)
      if (now > 0) open.add(bundle)
      else open.delete(bundle)
    }
    waiting.delete(place)
    order.push(place)
    work += 2 ** open.size
  }
  take(first)
  while (waiting.size > 0) {
    let best = { place: -1, opened: Number.POSITIVE_INFINITY, uses: Number.POSITIVE_INFINITY }
    for (const place of waiting) {
      let opened = 0
      let usesLeft = 0
      for (const bundle of needs[place]!) {
        const last = left.get(bundle) === 1
        if (open.has(bundle)) opened -= last ? 1 : 0
        else opened += last ? 0 : 1
        usesLeft += left.get(bundle)!
      }
      if (opened < best.opened || (opened === best.opened && usesLeft < best.uses)) {
        best = { place, opened, uses: usesLeft }
      }
    }
    take(best.place)
  }
  return { order, work }
}
