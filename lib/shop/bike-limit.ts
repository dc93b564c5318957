import { z } from 'zod'
import { units } from '../core/quantity/units'
import { readCatalogue } from './catalogue'
import { deed, requireFresh } from './deed'
import { idOf, lineOrNull, most, numberOrNull, versionOf } from './fields'
import { requireLimitFits } from './limit-fits'
import { refuse } from './refusal'

const figure = numberOrNull({ min: -1e6, max: 1e6, message: 'Enter a number, or leave it empty.' })

/** The figures of a limit, as every form for one sends them. */
export const limitFigures = {
  position: z.string().min(1).max(40).nullable().default(null),
  min: figure,
  max: figure,
  asNew: figure,
  saleMin: figure,
  saleMax: figure,
  unit: z.enum(units, { error: 'Choose the unit.' }),
  note: lineOrNull(most.line),
}

type Figures = { min: number | null; max: number | null; saleMin: number | null; saleMax: number | null }

export function checkLimitFigures({ min, max, saleMin, saleMax }: Figures, context: z.RefinementCtx): void {
  if (min === null && max === null && saleMin === null && saleMax === null) {
    context.addIssue({ code: 'custom', path: ['min'], message: 'Give a lowest or a highest value.' })
  }
  if (min !== null && max !== null && min > max) {
    context.addIssue({ code: 'custom', path: ['max'], message: 'The highest must not be below the lowest.' })
  }
}

/** Where a limit for one bike can come from. */
export const bikeLimitSources = ['stamped', 'maker'] as const

export const bikeLimitInput = z
  .strictObject({
    id: idOf,
    bike: idOf,
    check: z.string().min(1).max(80),
    source: z.enum(bikeLimitSources, { error: 'Say where the figure stands.' }),
    ...limitFigures,
  })
  .superRefine(checkLimitFigures)

/** "Stamped on the disc: 4.5": a limit for one bike. It takes the place of an earlier one at that position. */
export const setBikeLimit = deed('limit:set-for-bike', bikeLimitInput, async (input, { tx, now, who }) => {
  const { id, bike: bikeId, check: key, position, source, unit, note, ...figures } = input
  if (!(await tx.bike.findUnique({ where: { id: bikeId } })))
    return refuse('not-found', 'That bike is not there.')
  requireLimitFits((await readCatalogue(tx)).checks, input)
  await tx.limit.updateMany({
    where: { bikeId, check: key, scope: 'bike', position, withdrawnAt: null },
    data: { withdrawnAt: now, version: { increment: 1 } },
  })
  await tx.limit.create({
    data: {
      id,
      check: key,
      scope: 'bike',
      bikeId,
      position,
      ...figures,
      unit,
      source,
      sourceNote: note ?? '',
      personId: who.personId,
      at: now,
    },
  })
  return {
    answer: { limit: id },
    event: { bikeId, body: { check: key, position, source, unit, ...figures } },
  }
})

export const withdrawLimitInput = z.strictObject({ limit: idOf, version: versionOf })

/** Takes a limit of one bike back. */
export const withdrawBikeLimit = deed(
  'limit:set-for-bike',
  withdrawLimitInput,
  async (input, { tx, now }) => {
    const limit = await tx.limit.findUnique({ where: { id: input.limit } })
    if (limit?.scope !== 'bike') return refuse('not-found', 'That limit is not there.')
    const { count } = await tx.limit.updateMany({
      where: { id: input.limit, version: input.version, withdrawnAt: null },
      data: { withdrawnAt: now, version: { increment: 1 } },
    })
    requireFresh(count, {})
    return { answer: {}, event: { bikeId: limit.bikeId, body: { withdrew: limit.check, limit: limit.id } } }
  },
)
