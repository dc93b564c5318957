import { z } from 'zod'
import { typedMoney } from '../core/quantity/typed-money'
import { bikeColumns, bikeFacts, checkSale } from './bike-fields'
import { deed, requireFresh } from './deed'
import { idOf, versionOf } from './fields'
import { refuse } from './refusal'

export const changeBikeInput = z
  .strictObject({ id: idOf, version: versionOf, ...bikeFacts })
  .superRefine(checkSale)

/** Corrects what is known of a bike, from the version the person saw. */
export const changeBike = deed('bike:change', changeBikeInput, async ({ id, version, ...facts }, { tx }) => {
  const before = await tx.bike.findUnique({ where: { id } })
  if (!before) return refuse('not-found', 'That bike is not there.')
  const columns = bikeColumns(facts)
  const { count } = await tx.bike.updateMany({
    where: { id, version },
    data: { ...columns, version: { increment: 1 } },
  })
  requireFresh(count, whatDiffers(asTyped(before), asTyped({ ...before, ...columns })))
  const changed = Object.fromEntries(
    Object.entries(columns)
      .filter(([key, value]) => before[key as keyof typeof columns] !== value)
      .map(([key, value]) => [key, { from: before[key as keyof typeof columns], to: value }]),
  )
  return { answer: { bike: id, viewingNo: before.viewingNo }, event: { bikeId: id, body: { changed } } }
})

/** Of what is stored now, only what the person is about to change, and the version to save over. */
function whatDiffers(stored: Record<string, string>, typed: Record<string, string>): Record<string, string> {
  const entries = Object.entries(stored)
  return Object.fromEntries(entries.filter(([key, value]) => key === 'version' || typed[key] !== value))
}

type StoredBike = {
  make: string
  model: string
  year: number | null
  registration: string | null
  frameNumber: string | null
  distance: number | null
  clockChanged: boolean
  nonRunner: boolean
  askingMinor: number | null
  saleLowMinor: number | null
  saleLikelyMinor: number | null
  saleHighMinor: number | null
  sellerName: string | null
  sellerContact: string | null
  notes: string
  version: number
}

/** What is stored now, by the names of the form's fields, as a person would have typed it. */
export function asTyped(bike: StoredBike): Record<string, string> {
  return {
    make: bike.make,
    model: bike.model,
    year: bike.year?.toString() ?? '',
    registration: bike.registration ?? '',
    frameNumber: bike.frameNumber ?? '',
    distance: bike.distance?.toString() ?? '',
    clockChanged: bike.clockChanged ? 'ticked' : 'not ticked',
    nonRunner: bike.nonRunner ? 'ticked' : 'not ticked',
    asking: typedMoney(bike.askingMinor),
    saleLow: typedMoney(bike.saleLowMinor),
    saleLikely: typedMoney(bike.saleLikelyMinor),
    saleHigh: typedMoney(bike.saleHighMinor),
    sellerName: bike.sellerName ?? '',
    sellerContact: bike.sellerContact ?? '',
    notes: bike.notes,
    version: bike.version.toString(),
  }
}
