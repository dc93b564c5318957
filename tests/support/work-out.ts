import { type BikeResult, workOut } from '../../lib/core/board/bike-result'
import type { Db } from '../../lib/data/store'
import { readToWorkOut } from '../../lib/shop/facts'

/** One bike worked out afresh from what is stored. */
export async function workOutBike(
  db: Db,
  asked: { bikeId: string; now: Date },
): Promise<{ result: BikeResult }> {
  const { input } = await readToWorkOut(db, asked)
  return { result: workOut(input) }
}
