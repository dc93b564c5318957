import { z } from 'zod'
import type { Job } from '../core/checks/catalogue'
import type { Store } from '../data/store'
import { readCatalogue } from './catalogue'
import { editFromForm, readStored, requireSeen, requireSound } from './catalogue-change'
import { type Draft, jobForm } from './catalogue-forms'
import { finish, notThere, seen } from './change-catalogue'
import { deed } from './deed'

/** The figures of a job that are changed most often, without its title and its operations. */
export const changeJobInput = z.strictObject({
  ...seen,
  hours: jobForm.hours,
  outsideWork: jobForm.outsideWork,
  parts: jobForm.parts,
})

/** Sets the hours and prices of a job for every bike from now on. */
export const changeJob = deed('catalogue:change', changeJobInput, async (input, { tx, now, who }) => {
  const { key, version, ...figures } = input
  const stored = await readStored(tx)
  const job = stored.whole.jobs.find((one) => one.key === key) ?? notThere('job')
  requireSeen(stored, { kind: 'job', key, version })
  const { title, operations, fasteners = true, cautions = [] } = job
  const appliesTo = Object.entries(job.appliesTo ?? {}).flatMap(([part, values]) =>
    values.map((value) => `${part}:${value}`),
  )
  const draft: Draft<'job'> = {
    ...{ title, operations: [...operations], cautions: [...cautions], appliesTo, ...figures },
    fasteners: fasteners ? 'yes' : '',
  }
  const made = editFromForm(stored, { before: { kind: 'job', key, now: job }, draft })
  requireSound(stored, made)
  return finish({ tx, now, who }, made.edit)
})

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
