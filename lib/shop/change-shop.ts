import { z } from 'zod'
import { countries } from '../core/checks/catalogue'
import { deed, requireFresh } from './deed'
import { lengthUnits, lineOf, most, versionOf } from './fields'
import { isZone } from './instants'

export const changeShopInput = z.strictObject({
  version: versionOf,
  name: lineOf(most.name, 'Give the shop a name.'),
  lengthUnit: z.enum(lengthUnits, { error: 'Choose miles or kilometres.' }),
  zone: z.string().trim().refine(isZone, 'Choose a zone from the list, like Europe/London.'),
  country: z.enum(countries, { error: 'Say whose law the bikes are sold under.' }),
  /** Ticked where no bike is ready without its certificate of roadworthiness. */
  certificateWanted: z
    .literal('yes')
    .optional()
    .transform((ticked) => ticked === 'yes'),
})

/**
 * Another name, unit of distance, zone, country whose law counts, or whether a bike needs its certificate to be
 * ready. What is stored keeps its unit and its instant; only what is shown, and where a day ends, changes.
 */
export const changeShop = deed('shop:change', changeShopInput, async ({ version, ...facts }, { tx }) => {
  const before = await tx.shop.findFirstOrThrow()
  const { count } = await tx.shop.updateMany({
    where: { version },
    data: { ...facts, version: { increment: 1 } },
  })
  const { name, lengthUnit, zone, country, certificateWanted } = before
  requireFresh(count, {
    name,
    lengthUnit,
    zone,
    country,
    certificateWanted: certificateWanted ? 'wanted' : 'not wanted',
    version: String(before.version),
  })
  const from = { name, lengthUnit, zone, country, certificateWanted }
  return { answer: {}, event: { bikeId: null, body: { from, to: facts } } }
})
