import { z } from 'zod'
import { checkLimitFigures, limitFigures, withdrawLimitInput } from './bike-limit'
import { readCatalogue } from './catalogue'
import { deed, type Inside, requireFresh } from './deed'
import { idOf, lineOrNull, most, numberOrNull, searchKey } from './fields'
import { requireLimitFits } from './limit-fits'
import { refuse } from './refusal'

const yearMessage = 'Give the year in four digits, or leave it empty.'
export const yearOrNull = numberOrNull({ min: 1885, max: 2100, message: yearMessage }).refine(
  (value) => value === null || Number.isInteger(value),
  yearMessage,
)

/** Where a limit for a model or the whole shop can come from. */
export const limitSources = ['maker', 'law', 'standard', 'common practice'] as const

export const limitInput = z
  .strictObject({
    id: idOf,
    check: z.string({ error: 'Choose the check.' }).min(1, 'Choose the check.').max(80),
    scope: z.enum(['model', 'shop'], { error: 'Say whether it holds for one model or for every bike.' }),
    make: lineOrNull(most.name),
    model: lineOrNull(most.name),
    yearFrom: yearOrNull,
    yearTo: yearOrNull,
    source: z.enum(limitSources, { error: 'Say where the figure comes from.' }),
    ...limitFigures,
    position: z
      .string()
      .max(40)
      .nullable()
      .default(null)
      .transform((typed) => typed || null),
  })
  .superRefine(checkLimitFigures)
  .superRefine((input, context) => {
    if (input.scope === 'shop') return
    if (!input.make) context.addIssue({ code: 'custom', path: ['make'], message: 'Name the make.' })
    if (!input.model) context.addIssue({ code: 'custom', path: ['model'], message: 'Name the model.' })
    if (input.yearFrom !== null && input.yearTo !== null && input.yearFrom > input.yearTo)
      context.addIssue({ code: 'custom', path: ['yearTo'], message: 'The last year is before the first.' })
  })

export type LimitTyped = z.output<typeof limitInput>

/** What must be the same for one limit to take the place of another. */
export type HoldsFor = {
  check: string
  position: string | null
  scope: 'model' | 'shop'
  makeKey: string | null
  modelKey: string | null
  yearFrom: number | null
  yearTo: number | null
}

export function holdsForOf(typed: Omit<LimitTyped, 'id'>): HoldsFor {
  const { check, position, scope, make, model, yearFrom, yearTo } = typed
  return scope === 'model'
    ? {
        check,
        position,
        scope,
        makeKey: searchKey(make ?? ''),
        modelKey: searchKey(model ?? ''),
        yearFrom,
        yearTo,
      }
    : { check, position, scope, makeKey: null, modelKey: null, yearFrom: null, yearTo: null }
}

/** Writes one limit; an earlier one for just the same is withdrawn. Answers what its event says. */
export async function putLimit(
  typed: LimitTyped,
  { tx, now, who }: Pick<Inside, 'tx' | 'now' | 'who'>,
): Promise<object> {
  const { id, min, max, asNew, saleMin, saleMax, unit, source, note } = typed
  const holdsFor = holdsForOf(typed)
  const figures = { min, max, asNew, saleMin, saleMax, unit, source }
  await tx.limit.updateMany({
    where: { ...holdsFor, withdrawnAt: null },
    data: { withdrawnAt: now, version: { increment: 1 } },
  })
  await tx.limit.create({
    data: { id, ...holdsFor, ...figures, sourceNote: note ?? '', personId: who.personId, at: now },
  })
  return { limit: id, ...holdsFor, ...figures, note }
}

/** A limit for a model (in some years) or for every bike. An earlier one for just the same is withdrawn. */
export const setLimit = deed('limit:set', limitInput, async (input, inside) => {
  requireLimitFits((await readCatalogue(inside.tx)).checks, input)
  const body = await putLimit(input, inside)
  return { answer: { limit: input.id }, event: { bikeId: null, body } }
})

/** Takes a limit of a model or of the shop back; the check falls to the next one that holds. */
export const withdrawLimit = deed('limit:set', withdrawLimitInput, async (input, { tx, now }) => {
  const limit = await tx.limit.findUnique({ where: { id: input.limit } })
  if (!limit || limit.scope === 'bike') return refuse('not-found', 'That limit is not there.')
  const { count } = await tx.limit.updateMany({
    where: { id: input.limit, version: input.version, withdrawnAt: null },
    data: { withdrawnAt: now, version: { increment: 1 } },
  })
  requireFresh(count, {})
  return { answer: {}, event: { bikeId: null, body: { withdrew: limit.check, limit: limit.id } } }
})
