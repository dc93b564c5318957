import type { BikeKind } from '../../core/checks/bike-kind'
import type { Condition, Round } from '../../core/checks/catalogue'
import type { Unit } from '../../core/quantity/units'

/** One value as a person would take it; by position where the check has several. */
export type Taken = {
  check: string
  /** A number, an answer's key, a code; one for every position, or one by position. */
  value: string | Readonly<Record<string, string>>
  /** Key of the check's instrument; its first where left out. */
  instrument?: string
  /** Conditions beside those the check asks for; `none` leaves even those out. */
  conditions?: readonly Condition[] | 'none'
  note?: string
  /** True where these take the place of what was read before. */
  corrects?: boolean
}

type Staff = 'technician' | 'dealer' | 'manager'

/** What happened to a bike, in order. `daysAgo` counts back from the day the demo is made. */
export type Happening = { daysAgo: number; who: Staff } & (
  | {
      did: 'check'
      rounds: readonly Round[]
      short?: boolean
      except?: readonly string[]
      found?: readonly Taken[]
    }
  | { did: 'record'; taken: readonly Taken[] }
  | {
      did: 'limit'
      checks: readonly string[]
      limit: { min?: string; max?: string; asNew?: string; saleMin?: string; unit: Unit; note?: string }
    }
  | { did: 'decide'; decision: Readonly<Record<string, unknown>> }
  | { did: 'offer'; price: string; validDays: number }
  | { did: 'buy'; price: string }
  | { did: 'bench' }
)

export type Story = {
  bike: {
    make: string
    model: string
    year: number | null
    kind: BikeKind
    registration: string
    frameNumber: string
    distance: string
    sellerName: string
    sellerContact: string
    asking: string
    sale: readonly [low: string, likely: string, high: string] | null
    notes: string
  }
  seenDaysAgo: number
  happenings: readonly Happening[]
}
