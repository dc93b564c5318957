import type { Call } from '../core/checks/catalogue'
import { type BikeHead, headOf } from './bike-head'
import { readCatalogue } from './catalogue'
import type { Context } from './deed'
import { type PhotoMark, storedMarks } from './photo-marks'
import { readBikeForBench } from './read-bike'
import { mayDo } from './who-may'

export type PhotoOnPage = {
  id: string
  caption: string
  takenAt: string
  who: string
  /** Title of the check or fault it was taken for; null for one of the whole bike. */
  about: string | null
  fault: string | null
  width: number
  height: number
  marks: readonly PhotoMark[]
  forBuyer: boolean
  version: number
  mayTakeBack: boolean
}

/** Every photo of a bike with what is drawn beside it, and the faults one can be taken for. No money is in it. */
export type BikePhotos = BikeHead & {
  zone: string
  photos: readonly PhotoOnPage[]
  /** How many were taken back; they stay in the record and are not shown. */
  takenBack: number
  faults: readonly { key: string; title: string; call: Call }[]
}

export async function readPhotos(context: Context, viewingNo: string): Promise<BikePhotos> {
  const { who } = context
  const { db } = context.store
  const bike = await readBikeForBench(context, viewingNo)
  const [rows, people, catalogue] = await Promise.all([
    db.photo.findMany({ where: { bikeId: bike.id }, orderBy: [{ takenAt: 'asc' }, { id: 'asc' }] }),
    db.person.findMany({ select: { id: true, name: true } }),
    readCatalogue(db),
  ])
  const names = new Map(people.map(({ id, name }) => [id, name]))
  const checks = new Map(catalogue.checks.map(({ key, title }) => [key, title]))
  const faults = new Map([...catalogue.faults, ...bike.faults].map(({ key, title }) => [key, title]))
  return {
    ...headOf(bike),
    zone: bike.zone,
    faults: bike.faults,
    takenBack: rows.filter(({ withdrawnAt }) => withdrawnAt !== null).length,
    photos: rows
      .filter(({ withdrawnAt }) => withdrawnAt === null)
      .map((row) => ({
        id: row.id,
        caption: row.caption,
        takenAt: row.takenAt.toISOString(),
        who: names.get(row.personId) ?? 'somebody',
        about: aboutOf(row, { checks, faults }),
        fault: row.fault,
        width: row.width,
        height: row.height,
        marks: storedMarks(row.marks),
        forBuyer: row.forBuyer,
        version: row.version,
        mayTakeBack: row.personId === who?.personId || mayDo(who?.roles ?? [], 'lock:clear'),
      })),
  }
}

function aboutOf(
  { fault, check }: { fault: string | null; check: string | null },
  titles: { checks: ReadonlyMap<string, string>; faults: ReadonlyMap<string, string> },
): string | null {
  if (fault !== null) return titles.faults.get(fault) ?? fault
  return check === null ? null : (titles.checks.get(check) ?? check)
}
