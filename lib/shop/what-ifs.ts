import { z } from 'zod'
import type { WhatIf } from '../core/deal/what-if'
import type { Db } from '../data/store'
import { deed, requireFresh } from './deed'
import { idOf, lineOf, moneyOrNull, most, numberOrNull, versionOf } from './fields'
import { threeAmounts } from './other-ways'
import { refuse, refuseField } from './refusal'

const jobs = z.array(z.string().min(1).max(most.line)).max(200).default([])

/** What differs from how the bike is, and nothing else: the rest follows the bike when it is opened again. */
export const keepWhatIfInput = z.strictObject({
  id: idOf,
  bike: idOf,
  name: lineOf(most.name, 'Give it a name, like "Tank left as it is".'),
  asking: moneyOrNull,
  sale: threeAmounts.optional(),
  labourCost: moneyOrNull,
  benchHourPrice: moneyOrNull,
  targetMargin: moneyOrNull,
  maxChanceOfLoss: numberOrNull({ min: 0, max: 100, message: 'Per cent, from 0 to 100.' }),
  /** Keys of jobs taken in and of those left out. */
  in: jobs,
  out: jobs,
})

/** Keeps what was tried out, under a name, beside the bike: nothing that is worked out rests on it. */
export const keepWhatIf = deed('what-if:keep', keepWhatIfInput, async (input, { tx, now, who }) => {
  const { id, bike: bikeId, name } = input
  if (!(await tx.bike.findUnique({ where: { id: bikeId } }))) refuse('not-found', 'That bike is not there.')
  if (await tx.whatIf.findUnique({ where: { id } }))
    refuse('malformed', 'This was sent before and is kept. Load the page again.')
  if (await tx.whatIf.findFirst({ where: { bikeId, name, withdrawnAt: null } }))
    refuseField('name', 'One of this name is kept already: give another name.')
  const changes = changesOf(input)
  if (Object.keys(changes).length === 0)
    refuseField('name', 'This is how the bike is: change a figure or a job first.')
  await tx.whatIf.create({
    data: { id, bikeId, name, body: JSON.stringify(changes), personId: who.personId, at: now },
  })
  return { answer: { whatIf: id }, event: { bikeId, body: { name, ...changes } } }
})

export const dropWhatIfInput = z.strictObject({ bike: idOf, whatIf: idOf, version: versionOf })

/** Takes a kept one away again; that it was there stays in the bike's story. */
export const dropWhatIf = deed('what-if:keep', dropWhatIfInput, async (input, { tx, now }) => {
  const { bike: bikeId, whatIf: id, version } = input
  const kept = await tx.whatIf.findUnique({ where: { id } })
  if (!kept || kept.bikeId !== bikeId) return refuse('not-found', 'That what-if is not there.')
  const { count } = await tx.whatIf.updateMany({
    where: { id, version, withdrawnAt: null },
    data: { withdrawnAt: now, version: { increment: 1 } },
  })
  requireFresh(count, {})
  return { answer: {}, event: { bikeId, body: { dropped: kept.name } } }
})

function changesOf(input: z.output<typeof keepWhatIfInput>): WhatIf {
  const { asking, sale, labourCost, benchHourPrice, targetMargin, maxChanceOfLoss } = input
  const { low = null, likely = null, high = null } = sale ?? {}
  return {
    ...(asking !== null && { asking }),
    ...(low !== null && likely !== null && high !== null && { sale: { low, likely, high } }),
    ...(labourCost !== null && { labourCost }),
    ...(benchHourPrice !== null && { benchHourPrice }),
    ...(targetMargin !== null && { targetMargin }),
    ...(maxChanceOfLoss !== null && { maxChanceOfLoss: maxChanceOfLoss / 100 }),
    ...(input.in.length > 0 && { in: input.in }),
    ...(input.out.length > 0 && { out: input.out }),
  }
}

export type KeptWhatIf = {
  id: string
  name: string
  changes: WhatIf
  person: string
  at: string
  version: number
}

/** The ones kept for a bike, the latest first. */
export async function readWhatIfs(db: Db, bikeId: string): Promise<KeptWhatIf[]> {
  const rows = await db.whatIf.findMany({
    where: { bikeId, withdrawnAt: null },
    orderBy: [{ at: 'desc' }, { id: 'desc' }],
  })
  const people = await db.person.findMany({
    where: { id: { in: rows.map(({ personId }) => personId) } },
    select: { id: true, name: true },
  })
  const nameOf = new Map(people.map(({ id, name }) => [id, name]))
  return rows.map(({ id, name, body, personId, at, version }) => ({
    id,
    name,
    changes: JSON.parse(body) as WhatIf,
    person: nameOf.get(personId) ?? '',
    at: at.toISOString(),
    version,
  }))
}
