import {
  type Complexes,
  complexes,
  type Frequencies,
  nothingAt,
  timesAboveLow,
  timesFixed,
} from '../quantity/transform'
import { chanceOfNothing } from './outcome-atoms'
import type { Measured, MeasuredPart, Sum, Sums } from './outcome-spread'
import type { OutcomePart, Step } from './outcomes'

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
  { part, chances, which }: MeasuredPart,
  {
    units,
    states,
    at,
  }: { units: Table; states: readonly { place: number; care: number }[]; at: Frequencies },
): Table {
  const { count } = at
  const products = productsOf(part, units, at)
  const rows = desk('chances', chances.length * count)
  const wanted = new Set(states.map(({ place, care }) => which[place]![care]!))
  for (const row of wanted) {
    const one = transformOfPart(part, { products, chances: chances[row]!, count })
    rows.re.set(one.re.subarray(0, count), row * count)
    rows.im.set(one.im.subarray(0, count), row * count)
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
  table.re.set(other.re.subarray(0, size))
  table.im.set(other.im.subarray(0, size))
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
    table.re.set(units.re.subarray(first! * count, (first! + 1) * count), start)
    table.im.set(units.im.subarray(first! * count, (first! + 1) * count), start)
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

interface Asked {
  products: Products
  chances: readonly number[]
  count: number
}

/** One part of the outcomes, state by state: what leads into a state is added up, so that merged ways are one. */
function transformOfPart(part: OutcomePart, asked: Asked): Complexes {
  const { count } = asked
  let now = desk('now', part.widest * count)
  let next = desk('next', part.widest * count)
  now.re.fill(1, 0, count)
  now.im.fill(0, 0, count)
  for (const step of part.steps) {
    next.re.fill(0, 0, step.states * count)
    next.im.fill(0, 0, step.states * count)
    const { table, kinds, chance } = factorsOf(step, asked)
    for (let link = 0; link < step.from.length; link++) {
      const way = step.way[link]!
      const kind = kinds[way]!
      if (kind === 'none') continue
      const to = { of: next, start: step.to[link]! * count }
      const from = { of: now, start: step.from[link]! * count }
      if (kind === 'plain') addTimes(to, from, chance, count)
      else addProduct(to, [from, { of: table, start: way * count }], count)
    }
    ;[now, next] = [next, now]
  }
  return now
}

/** What each way multiplies by: a row; where all that it takes is nothing, only the chance of nothing, or none. */
function factorsOf(step: Step, { products, chances, count }: Asked) {
  const table = desk('factors', step.ways.length * count)
  const chance = chanceOfNothing(step, chances)
  const kinds = step.ways.map((way, place): 'row' | 'plain' | 'none' => {
    const takes = way.takes.filter(({ job, product }) => chances[job]! > 0 && !products.nothing[product])
    if (takes.length === 0) return way.nothing && chance > 0 ? 'plain' : 'none'
    const start = place * count
    table.re.fill(way.nothing ? chance : 0, start, start + count)
    table.im.fill(0, start, start + count)
    for (const { job, product } of takes) {
      const times = chances[job]!
      const from = product * count
      for (let k = 0; k < count; k++) {
        table.re[start + k]! += times * products.table.re[from + k]!
        table.im[start + k]! += times * products.table.im[from + k]!
      }
    }
    return 'row'
  })
  return { table, kinds, chance }
}

function addTimes({ of: sum, start: to }: Row, { of: by, start: from }: Row, times: number, count: number) {
  for (let k = 0; k < count; k++) {
    sum.re[to + k]! += times * by.re[from + k]!
    sum.im[to + k]! += times * by.im[from + k]!
  }
}

/** The innermost loop, most of the time of an estimate; a function of its own is compiled by itself. */
function addProduct({ of: sum, start: to }: Row, [one, other]: [Row, Row], count: number): void {
  const { re, im } = sum
  const { re: oneRe, im: oneIm } = one.of
  const { re: otherRe, im: otherIm } = other.of
  for (let k = 0; k < count; k++) {
    const aRe = oneRe[one.start + k]!
    const aIm = oneIm[one.start + k]!
    const bRe = otherRe[other.start + k]!
    const bIm = otherIm[other.start + k]!
    re[to + k]! += aRe * bRe - aIm * bIm
    im[to + k]! += aRe * bIm + aIm * bRe
  }
}
