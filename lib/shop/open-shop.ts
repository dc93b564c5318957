import { uuidv7 } from 'uuidv7'
import { z } from 'zod'
import type { Figures } from '../core/board/figures.input'
import { startingFigures } from '../core/board/starting-figures'
import { countries } from '../core/checks/catalogue'
import { taxSchemes } from '../core/deal/tax.input'
import { spendCode } from './codes'
import { type Context, deed } from './deed'
import { enrol } from './devices'
import { lengthUnits, lineOf, moneyOf, most, searchKey } from './fields'
import { isZone } from './instants'
import { hashPin, newPin } from './pin'
import { refuse } from './refusal'

/** A rate as typed in per cent, "20" or "8.875", to a share. */
export const percentOf = z
  .union([
    z.number(),
    z
      .string()
      .trim()
      .transform((typed) => Number(typed.replace(',', '.').replace(/%$/, '') || NaN)),
  ])
  .refine(
    (value) => Number.isFinite(value) && value >= 0 && value <= 100,
    'Give a rate in per cent, from 0 to 100.',
  )
  .transform((value) => Math.round(value * 1e6) / 1e8)

export const openShopInput = z.strictObject({
  code: lineOf(40, 'Type the code that the terminal shows.'),
  shopName: lineOf(most.name, 'Give the shop a name.'),
  currency: z
    .string()
    .trim()
    .toUpperCase()
    .regex(/^[A-Z]{3}$/, 'Give the three letters of the currency, like GBP.')
    .refine(isCurrencyOfHundred, 'Only currencies with a hundred smaller units are kept, like GBP or EUR.'),
  lengthUnit: z.enum(lengthUnits, { error: 'Choose miles or kilometres.' }),
  zone: z.string().trim().refine(isZone, 'Choose a zone from the list, like Europe/London.'),
  country: z.enum(countries, { error: 'Say whose law the bikes are sold under.' }),
  taxScheme: z.enum(taxSchemes, { error: 'Choose how the shop is taxed.' }),
  taxRate: percentOf,
  labourCost: moneyOf('Say what an hour at the bench costs the shop.'),
  personName: lineOf(most.name, 'Give your name as it should stand on the sign-in page.'),
  pin: newPin,
  deviceName: lineOf(most.name, 'Name this device, like "office laptop".'),
})

/** Whether amounts of the currency have two decimals, as ISO 4217 has it in the platform's own table. */
function isCurrencyOfHundred(code: string): boolean {
  try {
    const { maximumFractionDigits } = new Intl.NumberFormat('en', {
      style: 'currency',
      currency: code,
    }).resolvedOptions()
    return maximumFractionDigits === 2 && Intl.supportedValuesOf('currency').includes(code)
  } catch {
    return false
  }
}

/** The starting values, with what the first day asked for set by the shop itself. */
function firstFigures(input: z.output<typeof openShopInput>): Figures {
  const { labourCost, taxScheme, taxRate } = input
  return {
    ...startingFigures,
    labourCostMinor: labourCost,
    tax: { ...startingFigures.tax, scheme: taxScheme, rate: taxScheme === 'none' ? 0 : taxRate },
    owned: ['labourCostMinor', 'tax'],
  }
}

/** Makes the shop with its first manager and enrols the device it is done on. */
export const openShop = deed('shop:open', openShopInput, {
  prepare: async (input, { store }: Context) => ({
    pinHash: await hashPin(input.pin, store.pepper),
  }),
  work: async (input, { tx, now }, { pinHash }) => {
    if (await tx.shop.findFirst()) refuse('rule', 'This shop is already open. Sign in instead.')
    await spendCode(tx, {
      typed: input.code,
      purpose: 'first-day',
      now,
      field: 'code',
    })

    const personId = uuidv7()
    await tx.figures.create({
      data: {
        no: 1,
        body: JSON.stringify(firstFigures(input)),
        reason: 'First day',
        personId,
        at: now,
      },
    })
    await tx.shop.create({
      data: {
        id: 1,
        name: input.shopName,
        currency: input.currency,
        lengthUnit: input.lengthUnit,
        zone: input.zone,
        country: input.country,
        figuresNo: 1,
        createdAt: now,
      },
    })
    await tx.person.create({
      data: {
        id: personId,
        name: input.personName,
        nameKey: searchKey(input.personName),
        pinHash,
        createdAt: now,
        roles: { create: [{ role: 'manager' }, { role: 'dealer' }] },
      },
    })
    const enrolled = await enrol(tx, { name: input.deviceName, by: personId, now })
    return {
      answer: { personId, ...enrolled },
      event: {
        bikeId: null,
        body: {
          shop: input.shopName,
          person: input.personName,
          device: input.deviceName,
        },
      },
    }
  },
})
