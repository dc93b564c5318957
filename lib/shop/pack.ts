import type { ShopInstrument } from '../core/checks/instruments'
import type { Prisma } from '../data/generated/client'
import type { LimitRow, ShopFacts } from './facts'
import { dayIn } from './instants'
import type { NotedRow } from './noted-prices'
import type { bikeInPack } from './read-pack'
import type { Role } from './who-may'

/*
 * What a dealer's own phone keeps of the shop, so that a viewing can be taken in, looked over, worked out and offered
 * for where no network is. It holds rows as they are stored: the phone shapes them by the lines the server has.
 */

/** Counts the shapes of a pack; one of another number is fetched anew. */
export const packShape = 1

/** So long a pack is good for, without the server. */
export const packDays = 14

export type BikeInPack = Prisma.BikeGetPayload<{ include: typeof bikeInPack }>

export type ViewingInPack = {
  bike: BikeInPack
  /** Limits of this bike that count. */
  ownLimits: LimitRow[]
  /** Those ever entered for it. */
  limitIds: string[]
}

export type Pack = {
  shape: number
  /** The instant it was read. */
  asOf: Date
  expiresAt: Date
  person: { id: string; name: string; roles: Role[] }
  /** What day it is the phone's clock says. */
  shop: Omit<ShopFacts, 'today'>
  instruments: ShopInstrument[]
  /** Names of people, by id. */
  names: [string, string][]
  /** Makes the shop has had, offered while typing. */
  makes: string[]
  /** Prices noted, of any make and model: nobody knows what will be looked at. */
  noted: NotedRow[]
  /** The open viewings that this person took in. */
  viewings: ViewingInPack[]
  /** Ids of what this person's devices sent lately and was done. */
  done: string[]
}

/** As text: an instant is marked as one, so that it comes out of the text as what went in. */
export function packText(pack: Pack): string {
  return JSON.stringify(pack, function (this: Record<string, unknown>, key, value: unknown) {
    const before = this[key]
    return before instanceof Date ? { [instantMark]: before.toISOString() } : value
  })
}

/** Null for what is no pack, or one of another shape. */
export function packOf(text: string): Pack | null {
  try {
    const read = JSON.parse(text, (_key, value: unknown) => {
      const said = (value as { [instantMark]?: unknown } | null)?.[instantMark]
      return typeof said === 'string' ? new Date(said) : value
    }) as Partial<Pack> | null
    return read?.shape === packShape ? (read as Pack) : null
  } catch {
    return null
  }
}

const instantMark = '$instant'

/** The facts of the shop on the day it is now. */
export function shopOf({ shop }: Pack, now: Date): ShopFacts {
  return { ...shop, today: dayIn(shop.zone, now) }
}
