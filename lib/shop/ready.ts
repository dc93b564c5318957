import { z } from 'zod'
import { judgeBike } from '../core/checks/judge-bike'
import { type ReadyLack, type ReadyPoint, readyLacks, readyPoints } from '../core/checks/ready'
import type { Db } from '../data/store'
import { type Context, deed, requireFresh } from './deed'
import { readToWorkOut } from './facts'
import { idOf, lineOrNull, most, versionOf } from './fields'
import { moneyLacksOf } from './identity'
import { dayIn } from './instants'
import { refuse, refuseField } from './refusal'

export const sayReadyInput = z.strictObject({
  id: idOf,
  bike: idOf,
  point: z.enum(readyPoints, { error: 'Choose what was done.' }),
  note: lineOrNull(most.line),
})

/** A second person's check, or the certificate: what only a person can say before a bike is ready. */
export const sayReady = deed('ready:say', sayReadyInput, async (input, { tx, now, who }) => {
  const { id, bike: bikeId, point, note } = input
  if (!(await tx.bike.findUnique({ where: { id: bikeId } })))
    return refuse('not-found', 'That bike is not there.')
  if (point === 'certificate' && note === null)
    return refuseField('note', 'Give the number of the certificate and the day it runs out.')
  if (await tx.readyNote.findUnique({ where: { id } })) return refuse('rule', 'This is written down already.')
  await tx.readyNote.create({
    data: { id, bikeId, point, note: note ?? '', personId: who.personId, at: now },
  })
  return { answer: {}, event: { bikeId, body: { point, note } } }
})

export const makeReadyInput = z.strictObject({ bike: idOf, version: versionOf })

/**
 * Ready for sale: refused, saying what is missing, while anything is. It is looked at inside the transaction, so
 * that nothing can be started or opened between the look and the word.
 */
export const makeReady = deed('bike:make-ready', makeReadyInput, async (input, { tx, now }) => {
  const { bike: id, version } = input
  const bike = await tx.bike.findUnique({ where: { id } })
  if (!bike) return refuse('not-found', 'That bike is not there.')
  if (bike.stage !== 'on the bench') return refuse('rule', 'Only a bike on the bench becomes ready.')
  const lacks = await readReadyLacks(tx, { bikeId: id, now })
  if (lacks.length > 0) {
    const said = lacks.slice(0, 6).map(({ says }) => says)
    const more = lacks.length > said.length ? ` And ${lacks.length - said.length} more.` : ''
    return refuse('rule', `Not ready yet. ${said.join(' ')}${more}`)
  }
  const { count } = await tx.bike.updateMany({
    where: { id, version },
    data: { stage: 'ready', version: { increment: 1 } },
  })
  requireFresh(count, { version: String(bike.version) })
  return { answer: {}, event: { bikeId: id, body: {} } }
})

/** What a bike lacks to be ready, from what is stored at this moment. */
export async function readReadyLacks(
  db: Db,
  { bikeId, now }: { bikeId: string; now: Date },
): Promise<readonly ReadyLack[]> {
  const { input, bike, shop } = await readToWorkOut(db, { bikeId, now })
  const [lacksOfMoney, readyNotes, spells, states, people] = await Promise.all([
    moneyLacksOf(db, { bikeId, now }),
    db.readyNote.findMany({ where: { bikeId } }),
    db.jobSpell.findMany({ where: { run: { bikeId } } }),
    db.openState.findMany({ where: { bikeId } }),
    db.person.count({ where: { leftAt: null } }),
  ])
  const workers = new Set([
    ...spells.map(({ personId }) => personId),
    ...states.flatMap(({ personId, putBackBy }) => (putBackBy ? [personId, putBackBy] : [personId])),
  ])
  const { judgements, faults } = judgeBike({ ...input, ages: shop.figures.tyreAges })
  const { catalogue, kind, readings, work } = input
  const putBackAt = states.flatMap(({ putBackAt }) => putBackAt?.toISOString() ?? [])
  const ends = [...[...work.finished, ...work.givenUp].map(({ at }) => at), ...putBackAt].map(Date.parse)
  return readyLacks({
    catalogue,
    kind,
    judgements,
    faults,
    readings,
    work,
    putBackAt,
    workers: [...workers],
    lastWorkDay: ends.length === 0 ? null : dayIn(shop.zone, new Date(Math.max(...ends))),
    rides: bike.rides.flatMap(({ purpose, inAt }) => (inAt ? [{ purpose, inAt: inAt.toISOString() }] : [])),
    words: readyNotes.map(({ point, personId, at }) => ({
      point: point as ReadyPoint,
      person: personId,
      at: at.toISOString(),
      day: dayIn(shop.zone, at),
    })),
    certificateWanted: shop.certificateWanted,
    neverSold: lacksOfMoney.some(({ never }) => never),
    onePersonShop: people <= 1,
    now: now.toISOString(),
  })
}

/** How near a bike is to ready, for everybody: there is no money in it. */
export type ReadyShown = {
  bike: string
  /** It was made ready: what it lacks came up since. */
  isReady: boolean
  viewingNo: number
  version: number
  lacks: readonly ReadyLack[]
  /** What persons said so far, latest first. */
  said: readonly { point: ReadyPoint; note: string; who: string; at: string }[]
  certificateWanted: boolean
  zone: string
}

/** Stages at which it matters what a bike lacks to be ready. */
const shownAt: readonly string[] = ['on the bench', 'waiting for a decision', 'ready']

/** Null for a bike that is neither on its way to ready nor ready. */
export async function readReady({ store, now }: Context, bikeId: string): Promise<ReadyShown | null> {
  const { db } = store
  const bike = await db.bike.findUnique({
    where: { id: bikeId },
    select: { viewingNo: true, version: true, stage: true },
  })
  if (!bike || !shownAt.includes(bike.stage)) return null
  const [lacks, notes, people, shop] = await Promise.all([
    readReadyLacks(db, { bikeId, now }),
    db.readyNote.findMany({ where: { bikeId }, orderBy: { at: 'desc' } }),
    db.person.findMany({ select: { id: true, name: true } }),
    db.shop.findFirstOrThrow({ select: { certificateWanted: true, zone: true } }),
  ])
  const names = new Map(people.map(({ id, name }) => [id, name]))
  return {
    bike: bikeId,
    isReady: bike.stage === 'ready',
    viewingNo: bike.viewingNo,
    version: bike.version,
    lacks,
    said: notes.map(({ point, note, personId, at }) => ({
      point: point as ReadyPoint,
      note,
      who: names.get(personId) ?? 'somebody',
      at: at.toISOString(),
    })),
    ...shop,
  }
}
