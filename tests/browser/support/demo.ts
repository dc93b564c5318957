import { type BikeKind, usualKind } from '../../../lib/core/checks/bike-kind'
import type { Happening, Story } from '../../../lib/desk/demo/story'
import { madeDemo } from './made-demo'
import type { Asked, DemoBike, SignedIn } from './people'
import { type RunningShop, startShop } from './server'

type KeptReading = {
  id: string
  check: string
  kind: string
  value: string
  note: string | null
  personId: string
  /** When it was taken, by the server's clock, as ISO 8601. */
  takenAt: string
}

export type Demo = RunningShop & {
  /** Everybody of the demo, each signed in on a device of their own. */
  people: Record<'manager' | 'dealer' | 'technician', SignedIn>
  bikes(): Promise<DemoBike[]>
  /** Another bike with nothing checked yet; answers its viewing number. */
  takeIn(bike: { make: string; model: string; plate: string; kind?: Partial<BikeKind> }): Promise<number>
  /** A bike of four cylinders seen a week ago, with all that has happened to it since; its viewing number. */
  tell(bike: ToldBike): Promise<number>
  /** A limit in millimetres with the shop's sale line, for that bike alone. */
  limit(of: { viewing: number; check: string; min: string; asNew: string; saleMin: string }): Promise<null>
  /** The id of a supplier of the invented shop. */
  supplier(name: string): Promise<string>
  /** What the server keeps of a bike, in the order it came. */
  readings(bike: string): Promise<KeptReading[]>
  /** The photos that the server keeps of a bike, with what is drawn on them as JSON. */
  photos(bike: string): Promise<{ id: string; sha256: string; marks: string }[]>
  /** Another device with that person signed in. */
  signIn(name: string): Promise<SignedIn>
  /** The same, on a device of the bench. */
  atTheBench(name: string): Promise<SignedIn>
  /** That person signed in on a device that somebody else has worked on. */
  signInBeside(name: string, device: Pick<SignedIn, 'device'>): Promise<SignedIn>
  /** The same, on the seller's side. */
  onSellerSide(name: string): Promise<SignedIn>
  /** A manager shuts that device out. */
  shutOut(device: Pick<SignedIn, 'device'>): Promise<null>
}

export type ToldBike = Partial<Story['bike']> & { registration: string; happenings: readonly Happening[] }

export const names = { manager: 'Maren', dealer: 'Idris', technician: 'Wyn' } as const

/** The built server with the invented shop, and its people signed in without the pages of sign-in. */
export async function startDemo(): Promise<Demo> {
  const shop = await startShop({
    demo: true,
    copyOf: process.env[madeDemo],
    alongside: 'tests/browser/support/people.ts',
  })
  const ask = <T>(asked: Asked) => shop.ask<T>(asked)
  const signIn = (name: string) => ask<SignedIn>({ want: 'sign in', name })
  return {
    ...shop,
    people: {
      manager: await signIn(names.manager),
      dealer: await signIn(names.dealer),
      technician: await signIn(names.technician),
    },
    takeIn: (bike) => ask<number>({ want: 'take in', ...bike }),
    tell: ({ happenings, ...bike }) =>
      ask<number>({ want: 'tell', story: { bike: { ...common, ...bike }, seenDaysAgo: 7, happenings } }),
    limit: (of) => ask<null>({ want: 'limit', ...of }),
    bikes: () => ask<DemoBike[]>({ want: 'bikes' }),
    supplier: (name) => ask<string>({ want: 'supplier', name }),
    readings: (bike) => ask({ want: 'readings', bike }),
    photos: (bike) => ask({ want: 'photos', bike }),
    signIn,
    atTheBench: (name) => ask<SignedIn>({ want: 'at the bench', name }),
    signInBeside: (name, { device }) => ask<SignedIn>({ want: 'sign in beside', name, device }),
    shutOut: ({ device }) => ask<null>({ want: 'shut out', device }),
    onSellerSide: (name) => ask<SignedIn>({ want: "seller's side", name }),
  }
}

/** What a told bike is, where nothing else is said. */
export const commonKind: BikeKind = {
  ...usualKind,
  finalDrive: 'chain',
  cooling: 'air',
  fuelling: 'carburettors',
  frontBrake: 'single-disc',
  rearBrake: 'drum',
  abs: 'no',
  wheels: 'cast',
  strokes: 'four',
  centreStand: 'yes',
}

const common: Omit<Story['bike'], 'registration'> = {
  make: 'Lindale',
  model: '700',
  year: 1998,
  kind: commonKind,
  frameNumber: '',
  distance: '27300',
  sellerName: 'A seller',
  sellerContact: '',
  asking: '1250',
  sale: ['2000', '2300', '2500'],
  notes: '',
}
