import { type Complexes, complexes, type Frequencies, timesAboveLow, timesFixed } from '../quantity/transform'
import { chanceOfNothing } from './outcome-atoms'
import type { Measured, Sum, Sums } from './outcome-spread'
import type { OutcomePart } from './outcomes'

/** E[e^(−s(X − origin))] of the total over all outcomes. */
export function transformOf(measured: Measured, at: Frequencies): Complexes {
  return overStates(measured, at, () => {})
}

/**
 * The same with the size of each amount's transform in place of the transform, at the first frequency: nothing
 * cancels, so that no sum over outcomes is larger.
 */
export function envelopeOf(measured: Measured, at: Frequencies): number {
  return overStates(measured, { ...at, count: 1 }, sizesOnly).re[0]!
}

function sizesOnly({ re, im }: Complexes): void {
  for (let k = 0; k < re.length; k++) re[k] = Math.hypot(re[k]!, im[k]!)
  im.fill(0)
}

/** Unit by unit, a row each. */
type Table = Complexes

function overStates(measured: Measured, at: Frequencies, read: (table: Table) => void): Complexes {
  const { work, outcomes, fasteners } = measured
  const total = complexes(at.count)
  // What the fasteners do not touch is the same in all their states.
  const certainOther = tableOf([measured.certain.other], at)
  const unitsOther = measured.parts.map((sums) =>
    tableOf(
      sums.map(({ other }) => other),
      at,
    ),
  )
  for (const { chance, factor } of fasteners) {
    const { fastened, other } = measured.certain
    const fromOrigin = { fastened, other: { ...other, low: other.low - at.origin } }
    const certain = withFastened(certainOther, { sums: [fromOrigin], factor, at })
    read(certain)
    if (isNothing(certain)) continue
    const byCare = work.care.map((weight) => {
      const whole = complexes(at.count)
      for (let k = 0; k < at.count; k++) {
        whole.re[k] = certain.re[k]! * weight * chance
        whole.im[k] = certain.im[k]! * weight * chance
      }
      return whole
    })
    outcomes.parts.forEach((part, place) => {
      const units = withFastened(unitsOther[place]!, { sums: measured.parts[place]!, factor, at })
      read(units)
      const products = productsOf(part, units, at.count)
      let ofPart: Complexes | null = null
      byCare.forEach((whole, care) => {
        if (!ofPart || part.byCare)
          ofPart = transformOfPart(part, { products, chances: work.chances[care]!, count: at.count })
        multiplyRow({ of: whole, start: 0 }, { of: ofPart, start: 0 }, at.count)
      })
    })
    for (const whole of byCare) {
      for (let k = 0; k < at.count; k++) {
        total.re[k]! += whole.re[k]!
        total.im[k]! += whole.im[k]!
      }
    }
  }
  return total
}

/** Only what lies above the low ends: those are added up first, since e^(−s·low) alone may be out of range. */
function tableOf(sums: readonly Sum[], at: Frequencies): Table {
  const table = complexes(sums.length * at.count)
  table.re.fill(1)
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
  const table = { re: other.re.slice(), im: other.im.slice() }
  sums.forEach(({ fastened, other: { low } }, unit) => {
    const row = { of: table, start: unit * at.count }
    timesFixed(row, factor * fastened.low + low, at)
    for (const { value, scale } of fastened.uncertain)
      timesAboveLow(row, { value, scale: scale * factor }, at)
  })
  return table
}

function isNothing({ re, im }: Complexes): boolean {
  for (let k = 0; k < re.length; k++) if (Math.abs(re[k]!) + Math.abs(im[k]!) > 1e-11) return false
  return true
}

function productsOf(part: OutcomePart, units: Table, count: number): Table {
  const products = complexes(part.products.length * count)
  part.products.forEach(([first, ...others], place) => {
    const start = place * count
    products.re.set(units.re.subarray(first! * count, (first! + 1) * count), start)
    products.im.set(units.im.subarray(first! * count, (first! + 1) * count), start)
    for (const unit of others) {
      multiplyRow({ of: products, start }, { of: units, start: unit * count }, count)
    }
  })
  return products
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

/** One part of the outcomes, state by state: what leads into a state is added up, so that merged ways are one. */
function transformOfPart(
  part: OutcomePart,
  { products, chances, count }: { products: Table; chances: readonly number[]; count: number },
): Complexes {
  let now = complexes(part.widest * count)
  let next = complexes(part.widest * count)
  now.re.fill(1, 0, count)
  for (const step of part.steps) {
    next.re.fill(0, 0, step.states * count)
    next.im.fill(0, 0, step.states * count)
    const factors = complexes(step.ways.length * count)
    const nothing = chanceOfNothing(step, chances)
    step.ways.forEach((way, place) => {
      const start = place * count
      if (way.nothing) factors.re.fill(nothing, start, start + count)
      for (const { job, product } of way.takes) {
        const chance = chances[job]!
        const from = product * count
        for (let k = 0; k < count; k++) {
          factors.re[start + k]! += chance * products.re[from + k]!
          factors.im[start + k]! += chance * products.im[from + k]!
        }
      }
    })
    for (let link = 0; link < step.from.length; link++) {
      const to = { of: next, start: step.to[link]! * count }
      const from = { of: now, start: step.from[link]! * count }
      addProduct(to, [from, { of: factors, start: step.way[link]! * count }], count)
    }
    ;[now, next] = [next, now]
  }
  return { re: now.re.slice(0, count), im: now.im.slice(0, count) }
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
