import { uuidv7 } from 'uuidv7'
import type { Context } from '../../lib/shop/deed'
import { rideOut } from '../../lib/shop/rides'
import { done } from './open-shop'

/** What a form sends for a ride that goes out; every part can be set otherwise. */
export function ridingOut(bike: string, over: Record<string, unknown> = {}) {
  return {
    ride: uuidv7(),
    bike,
    purpose: 'test',
    rider: 'Tove',
    licence: 'full, seen today',
    cover: 'trade cover',
    plates: 'trade plates',
    held: '',
    unit: 'mi',
    distanceOut: '31300',
    ...over,
  }
}

/** Notes a ride that is out from now on, and answers its id. */
export async function goOut(context: Context, given: { bike: string } & Record<string, unknown>) {
  const { bike, ...over } = given
  return done(await rideOut(ridingOut(bike, over), context)).ride
}
