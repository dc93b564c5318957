import { z } from 'zod'
import { bikeKindValues, usualKind } from '../core/checks/bike-kind'
import { vin } from '../core/codes/vin'
import { CalcProblem } from '../core/quantity/problem'
import {
  idOf,
  lengthUnits,
  lineOf,
  lineOrNull,
  moneyOrNull,
  most,
  numberOrNull,
  searchKey,
  textOf,
} from './fields'

const chosen = <T extends readonly [string, ...string[]]>(values: T, missing: string) =>
  z.enum(values, { error: missing })

/** The kind of a bike as a form sends it and as it is stored: all of it is needed, since it decides the checks. */
export const bikeKindInput = z.strictObject(
  {
    finalDrive: chosen(bikeKindValues.finalDrive, 'Say how the rear wheel is driven.'),
    cooling: chosen(bikeKindValues.cooling, 'Say how the engine is cooled.'),
    fuelling: chosen(bikeKindValues.fuelling, 'Say how it is fuelled.'),
    frontBrake: chosen(bikeKindValues.frontBrake, 'Say what the front brake is.'),
    rearBrake: chosen(bikeKindValues.rearBrake, 'Say what the rear brake is.'),
    abs: chosen(bikeKindValues.abs, 'Say whether it has ABS.'),
    wheels: chosen(bikeKindValues.wheels, 'Say what the wheels are.'),
    strokes: chosen(bikeKindValues.strokes, 'Say whether it is a four-stroke or a two-stroke.'),
    centreStand: chosen(bikeKindValues.centreStand, 'Say whether it has a centre stand.'),
    class: chosen(bikeKindValues.class, 'Say which class it is.').default(usualKind.class),
    rims: chosen(bikeKindValues.rims, 'Say what the rims are made of.').default(usualKind.rims),
    camDrive: chosen(bikeKindValues.camDrive, 'Say what drives the cams.').default(usualKind.camDrive),
    starter: chosen(bikeKindValues.starter, 'Say how it is started.').default(usualKind.starter),
    immobiliser: chosen(bikeKindValues.immobiliser, 'Say whether it has an immobiliser.').default(
      usualKind.immobiliser,
    ),
  },
  // A field it does not know keeps the message that names it.
  { error: ({ code }) => (code === 'invalid_type' ? 'Say what kind of bike it is.' : undefined) },
)

const frameNumber = lineOrNull(40).superRefine((typed, context) => {
  if (typed === null) return
  try {
    // Only its letters are judged here, which no day changes.
    vin({ vin: typed, asOf: '2100-01-01' })
  } catch (error) {
    if (!(error instanceof CalcProblem)) throw error
    context.addIssue({
      code: 'custom',
      message: error.hint ? `${error.message} ${error.hint}` : error.message,
    })
  }
})

const year = numberOrNull({
  min: 1885,
  max: 2100,
  message: 'Give the year in four digits, or leave it empty.',
}).refine(
  (value) => value === null || Number.isInteger(value),
  'Give the year in four digits, or leave it empty.',
)

const ticked = z.union([z.boolean(), z.literal('yes').transform(() => true)]).default(false)

const distance = numberOrNull({
  min: 0,
  max: 2_000_000,
  message: 'Give the figure on the clock, or leave it empty.',
})

/** What is known of a bike, apart from its number and stage. */
export const bikeFacts = {
  kind: bikeKindInput,
  frameNumber,
  registration: lineOrNull(20),
  make: lineOf(most.name, 'Give the make.'),
  model: lineOf(most.name, 'Give the model.'),
  year,
  distance,
  distanceUnit: z.enum(lengthUnits, { error: 'Choose miles or kilometres.' }),
  /** The clock was changed at some time, so its figure alone says little. */
  clockChanged: ticked,
  /** It cannot be started where it stands. */
  nonRunner: ticked,
  sellerName: lineOrNull(most.name),
  sellerContact: lineOrNull(most.line),
  asking: moneyOrNull,
  saleLow: moneyOrNull,
  saleLikely: moneyOrNull,
  saleHigh: moneyOrNull,
  notes: textOf(most.note),
}

type Sale = { saleLow: number | null; saleLikely: number | null; saleHigh: number | null }

/** The three sale prices stand together and in order, or none is given. */
export function checkSale(input: Sale, context: z.RefinementCtx): void {
  const { saleLow, saleLikely, saleHigh } = input
  const given = { saleLow, saleLikely, saleHigh }
  const missing = Object.entries(given).filter(([, value]) => value === null)
  if (missing.length === 3) return
  for (const [field] of missing) {
    context.addIssue({ code: 'custom', path: [field], message: 'Give all three sale prices, or none.' })
  }
  if (saleLow === null || saleLikely === null || saleHigh === null) return
  if (saleLow > saleLikely) {
    context.addIssue({ code: 'custom', path: ['saleLow'], message: 'Low must not be above likely.' })
  }
  if (saleLikely > saleHigh) {
    context.addIssue({ code: 'custom', path: ['saleHigh'], message: 'High must not be below likely.' })
  }
}

export const takeInBikeInput = z.strictObject({ id: idOf, ...bikeFacts }).superRefine(checkSale)

type Facts = Omit<z.output<typeof takeInBikeInput>, 'id'>

/** The columns of a bike that hold its facts. */
export function bikeColumns(facts: Facts) {
  return {
    kind: JSON.stringify(facts.kind),
    frameNumber: facts.frameNumber,
    registration: facts.registration,
    registrationKey: facts.registration && searchKey(facts.registration),
    make: facts.make,
    makeKey: searchKey(facts.make),
    model: facts.model,
    modelKey: searchKey(facts.model),
    year: facts.year,
    distance: facts.distance,
    distanceUnit: facts.distanceUnit,
    clockChanged: facts.clockChanged,
    nonRunner: facts.nonRunner,
    sellerName: facts.sellerName,
    sellerContact: facts.sellerContact,
    ...priceColumns(facts),
    notes: facts.notes,
  }
}

/** What the seller wants, and what the bike should sell for. */
export const pricesSaid = {
  asking: moneyOrNull,
  saleLow: moneyOrNull,
  saleLikely: moneyOrNull,
  saleHigh: moneyOrNull,
}

export const sayPricesInput = z
  .strictObject({ bike: idOf, ...pricesSaid, was: z.strictObject(pricesSaid) })
  .superRefine(checkSale)

type Said = Pick<z.output<typeof sayPricesInput>, keyof typeof pricesSaid>

/** The columns of a bike that hold its prices. */
export function priceColumns({ asking, saleLow, saleLikely, saleHigh }: Said) {
  return {
    askingMinor: asking,
    saleLowMinor: saleLow,
    saleLikelyMinor: saleLikely,
    saleHighMinor: saleHigh,
  }
}
