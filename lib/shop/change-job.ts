import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import type { Job } from '../core/checks/catalogue'
import type { Store } from '../data/store'
import { readCatalogue } from './catalogue'
import { deed, requireFresh } from './deed'
import { lineOrNull, minorFromTyped, most, numberFromTyped } from './fields'
import { refuse } from './refusal'

const typed = z.string().trim().max(20).default('')

/** Low, likely and high as typed: all three, or the likely one alone for a figure that is certain. */
function threeTyped(read: (text: string) => number | null, message: string) {
  return z.strictObject({ low: typed, likely: typed, high: typed }).transform((value, context) => {
    const refuseAt = (key: 'low' | 'likely' | 'high', says: string) => {
      context.addIssue({ code: 'custom', path: [key], message: says })
      return z.NEVER
    }
    const likely = read(value.likely)
    if (likely === null) return refuseAt('likely', message)
    if (value.low === '' && value.high === '') return likely
    const low = read(value.low)
    const high = read(value.high)
    if (low === null) return refuseAt('low', message)
    if (high === null) return refuseAt('high', message)
    if (low > likely) return refuseAt('low', 'Low must not be above likely.')
    if (likely > high) return refuseAt('high', 'High must not be below likely.')
    return low === high ? likely : { low, likely, high }
  })
}

const notNegative = (text: string) => {
  const value = numberFromTyped(text)
  return value !== null && value >= 0 && value <= 1000 ? value : null
}

const hours = threeTyped(notNegative, 'Give hours in figures, like 1.5.')
const money = threeTyped(minorFromTyped, 'Give an amount in figures, like 45 or 45.50.')

const part = z
  .strictObject({
    name: lineOrNull(most.line),
    qty: typed,
    unitCost: z.strictObject({ low: typed, likely: typed, high: typed }),
  })
  .transform((value, context) => {
    // A line without a name is an empty one: that is how a part is taken away.
    if (value.name === null) return null
    const qty = notNegative(value.qty || '1')
    if (qty === null || qty === 0) {
      context.addIssue({ code: 'custom', path: ['qty'], message: 'Say how many are needed.' })
      return z.NEVER
    }
    const unitCost = money.safeParse(value.unitCost)
    if (!unitCost.success) {
      for (const { path, message } of unitCost.error.issues) {
        context.addIssue({ code: 'custom', path: ['unitCost', ...path], message })
      }
      return z.NEVER
    }
    return { name: value.name, qty, unitCost: unitCost.data }
  })

/** A manager's own figures for a job of the catalogue. */
export const changeJobInput = z.strictObject({
  key: z.string().min(1).max(80),
  /** The version of the edit the person saw; 0 where the job still had its starting values. */
  version: z.coerce.number().int().min(0),
  hours,
  outsideWork: money,
  parts: z
    .record(z.string(), part)
    .transform((lines) => Object.values(lines).filter((line) => line !== null)),
})

/** Sets the hours and prices of a job for every bike from now on; starting values are not overwritten but covered. */
export const changeJob = deed('catalogue:change', changeJobInput, async (input, { tx, now, who }) => {
  const { key, version, ...figures } = input
  const catalogue = await readCatalogue(tx)
  if (!catalogue.jobs.some((job) => job.key === key))
    return refuse('not-found', 'That job is not in the catalogue.')
  const patch = JSON.stringify({ ...figures, source: ownSource })
  const where = { kind: 'job', key }
  const before = await tx.catalogueChange.findUnique({ where: { kind_key: where } })
  if (before) {
    const { count } = await tx.catalogueChange.updateMany({
      where: { ...where, version },
      data: { patch, personId: who.personId, at: now, version: { increment: 1 } },
    })
    requireFresh(count, { version: String(before.version) })
  } else {
    await tx.catalogueChange.create({
      data: { id: uuidv7(), ...where, patch, personId: who.personId, at: now },
    })
  }
  return { answer: { key }, event: { bikeId: null, body: { job: key, ...figures } } }
})

const ownSource = { kind: 'shop', says: 'set by this shop' } as const

export type JobShown = Pick<Job, 'key' | 'title' | 'hours' | 'parts' | 'source'> & {
  outsideWork: NonNullable<Job['outsideWork']>
  /** Titles of the operations it shares with others. */
  operations: readonly string[]
  version: number
}

/** Every job with the figures in force, in the order of the catalogue. */
export async function readJobs({ db }: Store): Promise<{ currency: string; jobs: JobShown[] }> {
  const { currency } = await db.shop.findFirstOrThrow()
  const catalogue = await readCatalogue(db)
  const edits = await db.catalogueChange.findMany({
    where: { kind: 'job' },
    select: { key: true, version: true },
  })
  const titles = new Map(catalogue.operations.map((operation) => [operation.key, operation.title]))
  const jobs = catalogue.jobs.map(({ key, title, hours, parts, source, outsideWork = 0, operations }) => ({
    key,
    title,
    hours,
    parts,
    source,
    outsideWork,
    operations: operations.map((operation) => titles.get(operation) ?? operation),
    version: edits.find((edit) => edit.key === key)?.version ?? 0,
  }))
  return { currency, jobs }
}
