import type { BikeKind } from '../checks/bike-kind'
import type { Call, Catalogue } from '../checks/catalogue'
import type { Decision } from '../checks/decision.input'
import type { FaultState } from '../checks/faults'
import type { Judgement } from '../checks/judge'
import type { EnteredLimit } from '../checks/limits'
import type { Clearing, RoundLock } from '../checks/locks'
import type { Reading } from '../checks/reading'
import type { deal } from '../deal/deal'
import type { ThreePoint } from '../quantity/three-point'
import type { estimate } from '../work/estimate'
import type { JobLine, LeftFault } from '../work/propose-jobs'
import type { Figures } from './figures.input'

/** The price a bike is reckoned at: paid if bought, else offered, else asked. Minor units. */
export type PriceTaken = {
  amountMinor: number
  basis: 'paid' | 'offered' | 'asking'
}

export type BikeToWorkOut = {
  catalogue: Catalogue
  kind: BikeKind
  readings: readonly Reading[]
  /** Limits entered for this bike, its model or the shop. */
  limits: readonly EnteredLimit[]
  /** Without those withdrawn. */
  decisions: readonly Decision[]
  clearings: readonly Clearing[]
  figures: Figures
  /** Sale price with everything right, minor units. */
  sale: ThreePoint | null
  price: PriceTaken | null
  /** Day of the calculation, YYYY-MM-DD. */
  asOf: string
  /** Instant, ISO 8601 in UTC: decides which clearings still hold. */
  now: string
}

export type EstimateInput = Parameters<typeof estimate>[0]
export type Estimate = ReturnType<typeof estimate>
export type DealInput = Parameters<typeof deal>[0]
export type Deal = ReturnType<typeof deal>

/** One operation done once for several jobs. */
export type SharedOperation = {
  operation: string
  title: string
  /** Titles of the jobs in the estimate that need it. */
  jobs: readonly string[]
  /** Expected hours not spent a second time. */
  hoursSavedMean: number
  /** The same in minor units, not rounded. */
  costSavedMeanMinor: number
}

/** A fault left as it is, and for one that may pay: what doing it would change. */
export type LeftWithGain = LeftFault & {
  doing: {
    job: string
    title: string
    /** What the estimate grows by, on average: a shared operation is already paid for. Minor units. */
    costMeanMinor: number
    hoursMean: number
    /** Expected margin with the job less without it, after tax. Minor units, not rounded. */
    gainMinor: number
    pays: boolean
  } | null
}

/** Everything that follows from what is known of one bike. */
export type BikeResult = {
  judgements: readonly Judgement[]
  faults: readonly FaultState[]
  locks: readonly RoundLock[]
  jobs: readonly JobLine[]
  estimateInput: EstimateInput
  estimate: Estimate
  savings: readonly SharedOperation[]
  left: readonly LeftWithGain[]
  dealInput: DealInput | null
  deal: Deal | null
  /** Points of the outline of the distribution, for drawing; null where it is a single value. */
  costShape: Shape | null
  marginShape: Shape | null
  checksDone: number
  checksOpen: number
  /** Open checks of the guarded sort, in the order of the catalogue. */
  safetyOpen: readonly string[]
  /** Faults there, by call. */
  calls: Readonly<Record<Call, number>>
  whatHoldsItUp: string
  daysToReady: number
  price: PriceTaken | null
}
export type Shape = readonly { x: number; y: number }[]
