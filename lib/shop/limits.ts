import { z } from 'zod'
import { comparable } from '../core/quantity/units'
import { checkLimitFigures, limitFigures, withdrawLimitInput } from './bike-limit'
import { readCatalogue } from './catalogue'
import { deed, requireFresh } from './deed'
import { idOf, lineOrNull, most, numberOrNull, searchKey } from './fields'
import { refuse, refuseField } from './refusal'

const year = numberOrNull({
  min: 1885,
  max: 2100,
  message: 'Give the year in four digits, or leave it empty.',
})

/** Where a limit for a model or the whole shop can come from. */
export const limitSources = ['maker', 'law', 'standard', 'common practice'] as const

export const limitInput = z
  .strictObject({
    id: idOf,
    check: z.string({ error: 'Choose the check.' }).min(1, 'Choose the check.').max(80),
    scope: z.enum(['model', 'shop'], { error: 'Say whether it holds for one model or for every bike.' }),
    make: lineOrNull(most.name),
    model: lineOrNull(most.name),
    yearFrom: year,
    yearTo: year,
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

/** A limit for a model (in some years) or for every bike. An earlier one for just the same is withdrawn. */
export const setLimit = deed('limit:set', limitInput, async (input, { tx, now, who }) => {
  const {
    id,
    check: key,
    scope,
    make,
    model,
    yearFrom,
    yearTo,
    position,
    source,
    unit,
    note,
    ...figures
  } = input
  const check = (await readCatalogue(tx)).checks.find((one) => one.key === key)
  if (check?.sort !== 'measured') return refuseField('check', 'This check has no limit to set.')
  if (!comparable(unit, check.unit)) refuseField('unit', `Choose ${check.units.join(' or ')}.`)
  if (position !== null && !check.positions.some((one) => one.key === position))
    refuseField('position', 'This check has no such position. Leave it empty for all of them.')

  const holdsFor =
    scope === 'model'
      ? { scope, makeKey: searchKey(make ?? ''), modelKey: searchKey(model ?? ''), yearFrom, yearTo }
      : { scope, makeKey: null, modelKey: null, yearFrom: null, yearTo: null }
  await tx.limit.updateMany({
    where: { check: key, position, withdrawnAt: null, ...holdsFor },
    data: { withdrawnAt: now, version: { increment: 1 } },
  })
  await tx.limit.create({
    data: {
      id,
      check: key,
      ...holdsFor,
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
    event: { bikeId: null, body: { check: key, ...holdsFor, position, source, unit, ...figures } },
  }
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
