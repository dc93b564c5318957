import { uuidv7 } from 'uuidv7'
import { startJob } from '../../lib/shop/job-runs'
import { done, type OpenShop } from './open-shop'
import { takenIn } from './readings'

/** A bike of the shop that stands on the bench, put there in the table: how it was bought is not what is tried. */
export async function onTheBench(shop: OpenShop, over: Record<string, unknown> = {}) {
  const taken = await takenIn(shop, over)
  await shop.store.db.bike.update({ where: { id: taken.bike }, data: { stage: 'on the bench' } })
  return taken
}

/** Input of a job that is started: the front pads where nothing else is said. */
export function started(bike: string, over: object = {}) {
  return { run: uuidv7(), bike, job: 'front-pads', budgetHours: '', stopOn: '', ...over }
}

/** Begins a job and answers its run. */
export async function begin(
  shop: OpenShop,
  {
    bike,
    who = shop.technician,
    ...over
  }: { bike: string; who?: OpenShop['technician'] } & Record<string, unknown>,
): Promise<string> {
  return done(await startJob(started(bike, over), who)).run
}
