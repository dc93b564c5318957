import {
  type Complexes,
  complexes,
  type Frequencies,
  nothingAt,
  timesAboveLow,
  timesFixed,
} from '../quantity/transform'
import type { Measured, MeasuredPart, SettledStep, Sum, Sums } from './outcome-spread'
import type { OutcomePart } from './outcomes'

/** E[e^(−s(X − origin))] of the total over all outcomes, under each of some likelihoods (by place). */
export function transformsOf(measured: Measured, at: Frequencies, places: readonly number[]): Complexes[] {
  return overStates(measured, at, { places, read: () => {} })
}

/**
 * The same with the size of each amount's transform in place of the transform, at the first frequency: nothing
 * cancels, so that no sum over outcomes is larger.
 */
export function envelopeOf(measured: Measured, at: Frequencies, place: number): number {
  return overStates(measured, { ...at, count: 1 }, { places: [place], read: sizesOnly })[0]!.re[0]!
}

function sizesOnly({ re, im }: Complexes, size: number): void {
  for (let k = 0; k < size; k++) {
    re[k] = Math.hypot(re[k]!, im[k]!)
    im[k] = 0
  }
}

/** Unit by unit, a row each. */
type Table = Complexes

function overStates(
  measured: Measured,
  at: Frequencies,
  asked: { places: readonly number[]; read: (table: Table, size: number) => void },
): Complexes[] {
  const { certain, parts, fasteners, likelihoods } = measured
  const { count } = at
  // Each likelihood in each of its states of care.
  const states = asked.places.flatMap((place, index) =>
    likelihoods[place]!.care.map((weight, care) => ({ index, place, care, weight })),
  )
  const totals = asked.places.map(() => complexes(count))
  // What the fasteners do not touch is the same in all their states.
  const certainOther = tableOf('certain', [certain.other], at)
  const unitsOther = parts.map(({ sums }, place) =>
    tableOf(
      `part ${place}`,
      sums.map(({ other }) => other),
      at,
    ),
  )
  for (const { chance, factor } of fasteners) {
    const { fastened, other } = certain
    const fromOrigin = { fastened, other: { ...other, low: other.low - at.origin } }
    const always = withFastened(certainOther, { sums: [fromOrigin], factor, at })
    asked.read(always, count)
    if (isNothing({ of: always, start: 0 }, at)) continue
    const whole = desk('states', states.length * count)
    states.forEach(({ weight }, state) => {
      for (let k = 0; k < count; k++) {
        whole.re[state * count + k] = always.re[k]! * weight * chance
        whole.im[state * count + k] = always.im[k]! * weight * chance
      }
    })
    parts.forEach((part, place) => {
      const units = withFastened(unitsOther[place]!, { sums: part.sums, factor, at })
      asked.read(units, part.sums.length * count)
      const ways = transformsOfPart(part, { units, states, at })
      states.forEach((state, row) => {
        const start = part.which[state.place]![state.care]! * count
        multiplyRow({ of: whole, start: row * count }, { of: ways, start }, count)
      })
    })
    states.forEach(({ index }, state) => {
      const total = totals[index]!
      for (let k = 0; k < count; k++) {
        total.re[k]! += whole.re[state * count + k]!
        total.im[k]! += whole.im[state * count + k]!
      }
    })
  }
  return totals
}

/** One part under all the chances that are asked for, a row each. */
function transformsOfPart(
  { part, steps, which }: MeasuredPart,
  {
    units,
    states,
    at,
  }: { units: Table; states: readonly { place: number; care: number }[]; at: Frequencies },
): Table {
  const { count } = at
  const products = productsOf(part, units, at)
  const rows = desk('chances', steps.length * count)
  const wanted = new Set(states.map(({ place, care }) => which[place]![care]!))
  for (const row of wanted) {
    const one = transformOfPart(part, { steps: steps[row]!, products, count })
    copyRows({ of: rows, start: row * count }, { of: one, start: 0 }, count)
  }
  return rows
}

/**
 * Rows to reckon on, by what they are for, used again from one block of frequencies to the next: to ask for them anew
 * took a third of an estimate. Nothing is left on them for another to find: whoever takes one fills it first.
 */
const desks = new Map<string, Complexes>()

function desk(use: string, size: number): Complexes {
  const known = desks.get(use)
  if (known && known.re.length >= size) return known
  const made = complexes(Math.ceil(size * 1.25))
  desks.set(use, made)
  return made
}

/** Only what lies above the low ends: those are added up first, since e^(−s·low) alone may be out of range. */
function tableOf(use: string, sums: readonly Sum[], at: Frequencies): Table {
  const size = sums.length * at.count
  const table = desk(`other of ${use}`, size)
  table.re.fill(1, 0, size)
  table.im.fill(0, 0, size)
  sums.forEach(({ uncertain }, unit) => {
    const row = { of: table, start: unit * at.count }
    for (const amount of uncertain) timesAboveLow(row, amount, at)
  })
  return table
}

function withFastened(
  other: Table,
  { sums, factor, at }: { sums: readonly Sums[]; factor: number; at: Frequencies },
): Table {
  const size = sums.length * at.count
  const table = desk('units', size)
  copyRows({ of: table, start: 0 }, { of: other, start: 0 }, size)
  sums.forEach(({ fastened, other: { low } }, unit) => {
    const row = { of: table, start: unit * at.count }
    timesFixed(row, factor * fastened.low + low, at)
    for (const { value, scale } of fastened.uncertain)
      timesAboveLow(row, { value, scale: scale * factor }, at)
  })
  return table
}

/** So small at all these frequencies that its place in a sum does not show. */
function isNothing({ of: { re, im }, start }: Row, at: Frequencies): boolean {
  const most = nothingAt(at)
  for (let k = start; k < start + at.count; k++) {
    if (Math.abs(re[k]!) + Math.abs(im[k]!) > most) return false
  }
  return true
}

/** What can be added, a row each, and which of the rows are nothing at these frequencies. */
interface Products {
  table: Table
  nothing: readonly boolean[]
}

function productsOf(part: OutcomePart, units: Table, at: Frequencies): Products {
  const { count } = at
  const table = desk('products', part.products.length * count)
  const nothing = part.products.map(([first, ...others], place) => {
    const start = place * count
    copyRows({ of: table, start }, { of: units, start: first! * count }, count)
    for (const unit of others) {
      multiplyRow({ of: table, start }, { of: units, start: unit * count }, count)
    }
    return isNothing({ of: table, start }, at)
  })
  return { table, nothing }
}

interface Row {
  of: Complexes
  start: number
}

/** In a loop: a view on a typed array, as `set` wants it, costs more than the few numbers it is for. */
function copyRows({ of: { re, im }, start }: Row, { of: by, start: from }: Row, size: number): void {
  for (let k = 0; k < size; k++) {
    re[start + k] = by.re[from + k]!
    im[start + k] = by.im[from + k]!
  }
}

function multiplyRow({ of: { re, im }, start }: Row, { of: by, start: from }: Row, count: number): void {
  for (let k = 0; k < count; k++) {
    const oldRe = re[start + k]!
    const oldIm = im[start + k]!
    const byRe = by.re[from + k]!
    const byIm = by.im[from + k]!
    re[start + k] = oldRe * byRe - oldIm * byIm
    im[start + k] = oldRe * byIm + oldIm * byRe
  }
}

/** One part under some chances, state by state: what leads into a state is added up, so that merged ways are one. */
function transformOfPart(
  { widest }: OutcomePart,
  { steps, products, count }: { steps: readonly SettledStep[]; products: Products; count: number },
): Complexes {
  let now = desk('now', widest * count)
  let next = desk('next', widest * count)
  // Before the first step all is 1.
  now.re.fill(1, 0, count)
  now.im.fill(0, 0, count)
  for (const step of steps) {
    next.re.fill(0, 0, step.states * count)
    next.im.fill(0, 0, step.states * count)
    addLinks(next, now, { step, products, sums: sumsOf(step, { products, count }), count })
    ;[now, next] = [next, now]
  }
  return now
}

/** Where a way takes one of several jobs, what they add by their chances; a row for each such way, by its place. */
function sumsOf(
  { ways }: SettledStep,
  { products, count }: { products: Products; count: number },
): Complexes {
  const sums = desk('sums', ways.length * count)
  const { re, im } = products.table
  ways.forEach(({ takes }, way) => {
    if (takes.length < 2) return
    const start = way * count
    sums.re.fill(0, start, start + count)
    sums.im.fill(0, start, start + count)
    for (const { times, product } of takes) {
      if (products.nothing[product]) continue
      const from = (product - way) * count
      for (let k = start; k < start + count; k++) {
        sums.re[k]! += times * re[from + k]!
        sums.im[k]! += times * im[from + k]!
      }
    }
  })
  return sums
}

/** The innermost loop, much of the time of an estimate: every link adds to its state what it comes from, times its way. */
function addLinks(
  to: Complexes,
  by: Complexes,
  {
    step: { links, ways },
    products,
    sums,
    count,
  }: { step: SettledStep; products: Products; sums: Complexes; count: number },
): void {
  const { re, im } = to
  const { re: fromRe, im: fromIm } = by
  for (let link = 0; link < links.from.length; link++) {
    const place = links.way[link]!
    const { plain, takes } = ways[place]!
    const start = links.to[link]! * count
    const from = links.from[link]! * count - start
    if (takes.length === 0 || (takes.length === 1 && products.nothing[takes[0]!.product])) {
      if (plain === 0) continue
      for (let k = start; k < start + count; k++) {
        re[k]! += plain * fromRe[from + k]!
        im[k]! += plain * fromIm[from + k]!
      }
      continue
    }
    const only = takes.length === 1
    const times = only ? takes[0]!.times : 1
    const { re: byRe, im: byIm } = only ? products.table : sums
    const other = (only ? takes[0]!.product : place) * count - start
    for (let k = start; k < start + count; k++) {
      const aRe = fromRe[from + k]!
      const aIm = fromIm[from + k]!
      const bRe = plain + times * byRe[other + k]!
      const bIm = times * byIm[other + k]!
      re[k]! += aRe * bRe - aIm * bIm
      im[k]! += aRe * bIm + aIm * bRe
    }
  }
}
