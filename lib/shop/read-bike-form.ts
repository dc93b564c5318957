import type { BikeKind } from '../core/checks/bike-kind'
import type { Store } from '../data/store'
import { bikeKindInput } from './bike-fields'
import { refuse } from './refusal'

/** What the form for a bike needs to know of the shop. */
export async function readBikeFormFacts(store: Store) {
  const shop = await store.db.shop.findFirstOrThrow()
  const makes = await store.db.bike.findMany({
    distinct: ['makeKey'],
    select: { make: true },
    orderBy: { make: 'asc' },
  })
  return { currency: shop.currency, lengthUnit: shop.lengthUnit, makes: makes.map(({ make }) => make) }
}

/** A bike as its form shows it, with the version the person sees. */
export async function readBikeToEdit(store: Store, viewingNo: string) {
  const number = Number(viewingNo)
  const bike = Number.isInteger(number)
    ? await store.db.bike.findUnique({ where: { viewingNo: number } })
    : null
  if (!bike) return refuse('not-found', 'There is no bike with that number.')
  return {
    id: bike.id,
    viewingNo: bike.viewingNo,
    version: bike.version,
    values: {
      kind: bikeKindInput.parse(JSON.parse(bike.kind)) as BikeKind,
      frameNumber: bike.frameNumber ?? '',
      registration: bike.registration ?? '',
      make: bike.make,
      model: bike.model,
      year: bike.year?.toString() ?? '',
      distance: bike.distance?.toString() ?? '',
      distanceUnit: bike.distanceUnit,
      clockChanged: bike.clockChanged,
      nonRunner: bike.nonRunner,
      sellerName: bike.sellerName ?? '',
      sellerContact: bike.sellerContact ?? '',
      askingMinor: bike.askingMinor,
      saleLowMinor: bike.saleLowMinor,
      saleLikelyMinor: bike.saleLikelyMinor,
      saleHighMinor: bike.saleHighMinor,
      notes: bike.notes,
    },
  }
}
