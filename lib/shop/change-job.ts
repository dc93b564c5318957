import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import type { Job } from '../core/checks/catalogue'
import type { Store } from '../data/store'
import { readCatalogue } from './catalogue'
import { deed, requireFresh } from './deed'
import { refuse } from './refusal'
import { hoursTyped, moneyTyped, partsTyped } from './typed-figures'

/** A manager's own figures for a job of the catalogue. */
export const changeJobInput = z.strictObject({
  key: z.string().min(1).max(80),
  /** The version of the edit the person saw; 0 where the job still had its starting values. */
  version: z.coerce.number().int().min(0),
  hours: hoursTyped,
  outsideWork: moneyTyped,
  parts: partsTyped,
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
