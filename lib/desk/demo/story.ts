import type { BikeKind } from '../../core/checks/bike-kind'
import type { Condition as ReadingCondition, Round } from '../../core/checks/catalogue'
import type { IdentityPoint, Register, RegisterAnswer } from '../../core/checks/money-gate'
import type { OpenStateKind } from '../../core/checks/open-states'
import type { Condition, Market } from '../../core/deal/comparables'
import type { Unit } from '../../core/quantity/units'
import type { RidePurpose } from '../../shop/rides'
import type { SpendKind } from '../../shop/spends'
import type { SupplierName } from './parts'

/** One value as a person would take it; by position where the check has several. */
export type Taken = {
  check: string
  /** A number, an answer's key, a code; one for every position, or one by position. */
  value: string | Readonly<Record<string, string>>
  /** Key of the check's instrument; its first where left out. */
  instrument?: string
  /** Conditions beside those the check asks for; `none` leaves even those out. */
  conditions?: readonly ReadingCondition[] | 'none'
  note?: string
  /** True where it could not be done; the value is then the reason. */
  leftOut?: boolean
  /** True where these take the place of what was read before. */
  corrects?: boolean
}

type Staff = 'technician' | 'dealer' | 'manager'

/** A dated distance as a clock or a paper had it; `before` in days before it was written down. */
type DistanceTold = {
  before: number
  distance: string
  unit: 'mi' | 'km'
  source: string
  note?: string
  /** Taken back at once, with what was wrong with it. */
  withdrawn?: string
}

type Three = readonly [low: string, likely: string, high: string]

/** A price of a similar bike as it was noted; first seen so many days before it was seen last. */
type PriceNoted = {
  market: Market
  asked: 'asked' | 'sold'
  price: string
  /** Last seen so many days before it was noted; the same day where left out. */
  lastSeen?: number
  stood?: number
  year: string
  distance: string
  condition: Condition
  note?: string
}

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
  | ({ did: 'price' } & PriceNoted)
  | {
      /** What it would bring without being put right; the trade's price, or that of its parts, may be left out. */
      did: 'ways'
      trade?: Three
      parts?: { value: Three; stripHours: string; costs: string }
    }
  | { did: 'offer'; price: string; validDays: number }
  | { did: 'buy'; price: string }
  | { did: 'bench' }
  /** Promised to be ready so many days from then. */
  | { did: 'promise'; inDays: number; note: string }
  | { did: 'pass up'; reason: string }
  | {
      did: 'start'
      job: string
      opens?: readonly OpenStateKind[]
      budgetHours?: string
      stopOn?: string
    }
  | { did: 'pause'; job: string }
  | { did: 'finish'; job: string; minutes: string; note?: string }
  | { did: 'part'; job: string; what: string; number?: string; qty?: string }
  | {
      did: 'spend'
      kind: SpendKind
      /** The job it was for; none where it was for the bike as a whole. */
      job?: string
      what: string
      number?: string
      qty?: string
      amount: string
    }
  | {
      did: 'ask for part'
      of: SupplierName
      job: string
      part: string
      qty: string
      source: 'maker' | 'pattern' | 'used'
      number?: string
      price?: string
      leadDays?: string
      neverShare?: string
    }
  /** All that stands on the list of a supplier for this bike. */
  | { did: 'order parts'; of: SupplierName; carriage: string; reference?: string }
  | { did: 'part came'; part: string }
  | { did: 'part wrong'; part: string; note: string }
  | {
      did: 'send out'
      job?: string
      what: string
      whoHas: string
      /** In days from the day it goes. */
      dueIn?: number
      note?: string
      /** What they ask, where somebody who may see money sends it. */
      amount?: string
    }
  | {
      did: 'shelve'
      /** False where it came off no bike of the shop's. */
      own?: boolean
      what: string
      qty?: string
      condition: 'used' | 'new'
      fitsMake: string
      fitsModel: string
      place?: string
      story: string
    }
  | { did: 'open'; kind: OpenStateKind; note?: string }
  | { did: 'put back'; kind: OpenStateKind }
  | { did: 'ask'; job: string; asks: string; moreHours: string; undone: string; keptWhere: string }
  | { did: 'register'; register: Register; answer: RegisterAnswer; amount?: string; note?: string }
  | { did: 'identity'; point: IdentityPoint; answer: string; note?: string }
  | ({ did: 'distance' } & DistanceTold)
  | {
      did: 'ride'
      purpose: RidePurpose
      papers: Record<'rider' | 'licence' | 'cover' | 'plates', string>
      out: string
      back: string
      hours: number
      note?: string
    }
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
    /** Miles where left out. */
    distanceUnit?: 'mi' | 'km'
    /** It cannot be started where it stands. */
    nonRunner?: boolean
    sellerName: string
    sellerContact: string
    asking: string
    sale: readonly [low: string, likely: string, high: string] | null
    notes: string
  }
  seenDaysAgo: number
  happenings: readonly Happening[]
}
