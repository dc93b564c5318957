import { uuidv7 } from 'uuidv7'
import type { Context } from '../../lib/shop/deed'
import { recordReading } from '../../lib/shop/record-reading'
import { takeInBike } from '../../lib/shop/take-in-bike'
import { done, type OpenShop, viewing } from './open-shop'

/** A viewing taken in by the dealer. */
export async function takenIn(shop: OpenShop, over: Record<string, unknown> = {}) {
  return done(await takeInBike(viewing(over), shop.dealer))
}

type ReadingSent = Record<string, unknown> & { id: string; bike: string }

/** What a tablet sends for a look that was answered. */
export function look(bike: string, [check, value]: [string, string], over: object = {}): ReadingSent {
  return { id: uuidv7(), bike, check, kind: 'answer', value, takenAt: '2026-11-25T11:58:00Z', ...over }
}

/** What a tablet sends for a measured value: left inner pad with the calliper where nothing else is said. */
export function measured(bike: string, value: string, over: object = {}): ReadingSent {
  return {
    id: uuidv7(),
    bike,
    check: 'pads-front-twin',
    position: 'left-inner',
    kind: 'measured',
    value,
    unit: 'mm',
    conditions: [],
    instrument: 'calliper',
    note: null,
    takenAt: '2026-11-25T11:58:00Z',
    supersedes: null,
    ...over,
  }
}

/** Records several looks, in order. */
export async function answer(
  context: Context,
  { bike, answers }: { bike: string; answers: readonly [string, string][] },
): Promise<void> {
  for (const one of answers) done(await recordReading(look(bike, one), context))
}

/** Tools of the test shop: ids of a micrometer whose calibration has run out and of a calliper without a date. */
export const tools = {
  overdue: '0199c0de-0000-7000-8000-000000000001',
  undated: '0199c0de-0000-7000-8000-000000000002',
  putAway: '0199c0de-0000-7000-8000-000000000003',
} as const

/** Lists those tools as the shop's own. */
export async function ownTools({ store, manager }: OpenShop): Promise<void> {
  const shared = { unit: 'mm', personId: manager.who!.personId, at: new Date('2026-01-05T09:00:00Z') }
  const calliper = { ...shared, kind: 'calliper', resolution: 0.05, standardUncertainty: 0.02 }
  await store.db.instrument.createMany({
    data: [
      {
        ...shared,
        id: tools.overdue,
        kind: 'micrometer',
        name: 'Micrometer 0 to 25',
        resolution: 0.01,
        standardUncertainty: 0.003,
        calibrationDue: '2026-11-01',
      },
      { ...calliper, id: tools.undated, name: 'Long calliper' },
      {
        ...calliper,
        id: tools.putAway,
        name: 'Bent calliper',
        withdrawnAt: new Date('2026-06-01T09:00:00Z'),
      },
    ],
  })
}
