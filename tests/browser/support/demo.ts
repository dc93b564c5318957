import type { Asked, DemoBike, SignedIn } from './people'
import { type RunningShop, startShop } from './server'

export type Demo = RunningShop & {
  /** Everybody of the demo, each signed in on a device of their own. */
  people: Record<'manager' | 'dealer' | 'technician', SignedIn>
  bikes(): Promise<DemoBike[]>
  /** Another device with that person signed in. */
  signIn(name: string): Promise<SignedIn>
}

export const names = { manager: 'Maren', dealer: 'Idris', technician: 'Wyn' } as const

/** The built server with the invented shop, and its people signed in without the pages of sign-in. */
export async function startDemo(): Promise<Demo> {
  const shop = await startShop({ demo: true, alongside: 'tests/browser/support/people.ts' })
  const ask = <T>(asked: Asked) => shop.ask<T>(asked)
  const signIn = (name: string) => ask<SignedIn>({ want: 'sign in', name })
  return {
    ...shop,
    people: {
      manager: await signIn(names.manager),
      dealer: await signIn(names.dealer),
      technician: await signIn(names.technician),
    },
    bikes: () => ask<DemoBike[]>({ want: 'bikes' }),
    signIn,
  }
}
