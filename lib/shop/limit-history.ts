import type { Check } from '../core/checks/catalogue'
import type { Db } from '../data/store'
import { readCatalogue } from './catalogue'
import { figuresWords, yearsWords } from './limit-words'

/** A limit that holds no more, with who entered it and who took it back or put another in its place. */
export type LimitGone = {
  id: string
  title: string
  position: string | null
  /** "calder 600four, 1996 to 1999"; empty for every bike of the shop. */
  heldFor: string
  figures: string
  source: string
  note: string
  enteredBy: string
  enteredAt: Date
  withdrawnBy: string
  withdrawnAt: Date
}

/** At most so many are told at once; the store keeps all. */
const mostTold = 200

/** What was entered for a model, or for all of them and the shop, and holds no more; the latest first. */
export async function limitsGone(
  db: Db,
  of: { makeKey: string; modelKey: string } | 'all',
): Promise<LimitGone[]> {
  const rows = await db.limit.findMany({
    where: {
      withdrawnAt: { not: null },
      ...(of === 'all' ? { scope: { not: 'bike' } } : { scope: 'model', ...of }),
    },
    orderBy: { withdrawnAt: 'desc' },
    take: mostTold,
  })
  if (rows.length === 0) return []
  const instants = [...new Set(rows.map(({ withdrawnAt }) => withdrawnAt!.getTime()))].map(
    (at) => new Date(at),
  )
  const [catalogue, people, events] = await Promise.all([
    readCatalogue(db),
    db.person.findMany({ select: { id: true, name: true } }),
    db.event.findMany({
      where: { verb: 'limit:set', at: { in: instants } },
      select: { at: true, personId: true },
    }),
  ])
  const names = new Map(people.map(({ id, name }) => [id, name]))
  // A limit is taken back in the same transaction as its event, so both carry the same instant.
  const doers = new Map(events.map(({ at, personId }) => [at.getTime(), personId]))
  const nameOf = (personId: string | null | undefined) => names.get(personId ?? '') ?? 'somebody'
  return rows.map((row) => {
    const check = catalogue.checks.find(({ key }) => key === row.check)
    return {
      id: row.id,
      title: check?.title ?? row.check,
      position: labelOf(check, row.position),
      heldFor: [`${row.makeKey ?? ''} ${row.modelKey ?? ''}`.trim(), yearsWords(row)]
        .filter(Boolean)
        .join(', '),
      figures: figuresWords(row),
      source: row.source,
      note: row.sourceNote,
      enteredBy: nameOf(row.personId),
      enteredAt: row.at,
      withdrawnBy: nameOf(doers.get(row.withdrawnAt!.getTime())),
      withdrawnAt: row.withdrawnAt!,
    }
  })
}

function labelOf(check: Check | undefined, position: string | null): string | null {
  if (position === null || check?.sort !== 'measured') return position
  return check.positions.find(({ key }) => key === position)?.label ?? position
}
