import { sharedStore } from '../data/store'
import type { Context } from '../shop/deed'
import { deviceOf, whoOf } from '../shop/sign-in'
import { deviceTokenIn, sessionTokenIn } from './cookies'

/** Who asks, on which device, now: from the two cookies of a request. */
export async function contextOf(cookie: (name: string) => string | undefined): Promise<Context> {
  const store = await sharedStore()
  const now = new Date()
  const deviceId = await deviceOf(store, deviceTokenIn(cookie))
  const who = await whoOf(store, {
    sessionToken: sessionTokenIn(cookie),
    deviceId,
    now,
  })
  return { store, now, who, deviceId }
}

export function cookieOf(request: Request): (name: string) => string | undefined {
  const pairs = (request.headers.get('cookie') ?? '').split(/;\s*/).map((pair) => {
    const at = pair.indexOf('=')
    return [pair.slice(0, at), pair.slice(at + 1)] as const
  })
  const byName = new Map(pairs)
  return (name) => byName.get(name)
}
