import type { ThreePoint } from '../quantity/three-point'
import type { Unit } from '../quantity/units'
import type { KindCondition } from './bike-kind'

/**
 * The shapes of what a shop starts with: checks, faults, jobs, operations, cautions. The entries themselves
 * are data in lib/catalogue; a shop's edits are merged over them before the core sees them.
 */
export type Catalogue = {
  checks: readonly Check[]
  faults: readonly Fault[]
  jobs: readonly Job[]
  operations: readonly Operation[]
  cautions: readonly Caution[]
  /** Looks that tell how a bike was cared for; none where left out. */
  careSigns?: readonly CareSign[]
}

/** In the order that keeps people safe and hands clean. */
export const rounds = ['cold', 'stand', 'running', 'road'] as const
export type Round = (typeof rounds)[number]

/** Where a figure or rule comes from; `says` names the source or says what it rests on. */
export type Source = {
  kind: 'stamped' | 'maker' | 'shop' | 'law' | 'standard' | 'common practice' | 'starting value'
  says: string
}

export const conditions = ['cold', 'hot', 'upright', 'level', 'rested', 'off'] as const
export type Condition = (typeof conditions)[number]

export type Bounds = { min?: number; max?: number; asNew?: number; unit: Unit }
export type SourcedBounds = Bounds & { source: Source }

/** Where the law's figures are known; elsewhere a shop enters its own. */
export const countries = ['GB', 'DE', 'AT', 'US', 'other'] as const
export type Country = (typeof countries)[number]

/** What the law of one country asks, of all bikes or of some. */
export type LawLimit = SourcedBounds & { country: Exclude<Country, 'other'>; appliesTo?: KindCondition }

/** Where one stands for a check of the short round, in the order one walks. */
export const shortPlaces = [
  'papers',
  'cylinders',
  'left',
  'right',
  'tank',
  'saddle',
  'engine',
  'lamps',
  'meter',
] as const
export type ShortPlace = (typeof shortPlaces)[number]

/**
 * Where one stands for a check of the cold and the stand round, in the order one walks round the bike. What comes before
 * anything else is done at once and in the order of the catalogue: what could burn or fall, the brakes, the oil.
 */
export const standPlaces = [
  'first',
  'battery',
  'front',
  'left',
  'rear',
  'right',
  'saddle',
  'tank',
  'engine',
  'step-back',
  'papers',
] as const
export type StandPlace = (typeof standPlaces)[number]

export type GatedRound = 'running' | 'road'
export type GateEvidence = {
  opens: readonly GatedRound[]
  /** From when it was taken until it no longer opens anything. */
  hours: number
  /** No reason stands in for a good answer, whatever the answer was. */
  noReason?: true
}

type CheckBase = {
  key: string
  round: Round
  title: string
  /** Plain sentences, one step each. */
  how: readonly string[]
  /** Tools and help, for example "torch", "second person". */
  needs: readonly string[]
  minutes: number
  appliesTo?: KindCondition
  /** In the dealer's short round at a viewing: where it is done. */
  short?: ShortPlace
  /** Where one stands for it in its round. Rounds that are done in the order of time, as the engine warms, have none. */
  standAt?: StandPlace
  /** After so many days an answer is asked for again; it still counts until then, and never opens a gate. */
  staleAfterDays?: number
  /** The rounds that stay shut until this is done and good, and for how long an answer counts there. */
  gate?: GateEvidence
  /** Conditions the reading or answer must be taken in to be judged. */
  conditions?: readonly Condition[]
  /** Judged by the guarded rule, and first in every order. */
  safety?: boolean
  /** Keys of cautions shown beside it. */
  cautions?: readonly string[]
  /** The chance, 0 to 1, that this check finds its fault if it is there. 1 if left out. */
  detects?: number
  raises: readonly Raise[]
  source: Source
}

/** A value on a scale, judged against a limit. */
export type MeasuredCheck = CheckBase & {
  sort: 'measured'
  unit: Unit
  /** Units that may be chosen on the number pad; the first is offered. */
  units: readonly Unit[]
  positions: readonly Position[]
  judgedOn: 'lowest' | 'highest' | 'each' | 'mean'
  /** A fastener of brake, wheel or steering: its torque must be noted before a bike is ready. */
  fastener?: 'brake' | 'wheel' | 'steering'
  /** Judged only where the engine speed is noted beside the reading. */
  needsEngineSpeed?: boolean
  /** Outside this range (in `unit`) the number is refused as a slip of the finger. */
  plausible: { min: number; max: number }
  instruments: readonly Instrument[]
  /** `null`: set by model, so not judged until a limit is entered. */
  limit: SourcedBounds | null
  /** What the law asks, by country. */
  law?: readonly LawLimit[]
  /** The shop's own bound beside the limit: outside it the part is legal and still a must. */
  saleLine?: SourcedBounds
}

/** Answered by eye, ear, nose or hand. */
export type LookCheck = CheckBase & { sort: 'look'; answers: readonly Answer[] }
/**
 * A code that is decoded: the date in a tyre's number, the size on its side wall, or when something was last
 * done, as a year, a year and month, or "unknown".
 */
export type CodeCheck = CheckBase & { sort: 'code' } & (
    | { code: 'tyre-date' }
    | { code: 'tyre-size' }
    /** `overYears`: longer ago than this, or unknown, counts as due. */
    | { code: 'done-on'; overYears: number }
  )
/** A number noted: a count, a distance, an age. */
export type NumberCheck = CheckBase & {
  sort: 'number'
  unitWord: string
  plausible: { min: number; max: number }
}

export type Check = MeasuredCheck | LookCheck | CodeCheck | NumberCheck

export type Position = { key: string; label: string }
export type Answer = {
  key: string
  label: string
  tone: 'good' | 'note' | 'bad'
  /** A condition that does not hold where this is the answer: what asks for it is judged no more as if it did. */
  denies?: Condition
}
export type Instrument = {
  key: string
  name: string
  resolution: number
  unit: Unit
  standardUncertainty: number
  /** The last day of its calibration, YYYY-MM-DD; none where the shop keeps no date. */
  calibrationDue?: string | null
}

export type When =
  /** Past the limit on either side; for `done-on`, due by age or unknown. */
  | { on: 'outside' }
  /** Past the limit on one side. */
  | { on: 'above-limit' | 'below-limit' }
  | { on: 'below-sale-line' }
  | { on: 'answer'; answer: string }
  /** A number noted that is over or under a figure. */
  | { on: 'over' | 'under'; than: number }
  /** A decoded date older than the shop's guidance age or its sale line, in years. */
  | { on: 'older-than'; years: 'guidance' | 'sale-line' }

/** What a verdict or an answer does to the faults. */
export type Raise =
  | { when: When; fault: string }
  /** Names the one cause of a fault with several. */
  | { when: When; settles: { fault: string; cause: string } }
  /** Rules one cause out; the other shares grow in proportion. */
  | { when: When; rulesOut: { fault: string; cause: string } }

export const calls = ['stop', 'must', 'pays', 'leave'] as const
/** Severest first. */
export type Call = (typeof calls)[number]

export const lockKinds = ['ignition', 'engine', 'road'] as const
/** What a stop fault keeps shut: `ignition` and `engine` shut the running round, all three the road round. */
export type LockKind = (typeof lockKinds)[number]

export const careStates = ['kept', 'average', 'neglected'] as const
export type CareState = (typeof careStates)[number]

/** How quickly what a fault is about grows old with the bike. */
export const ageings = ['slow', 'fast'] as const
export type Ageing = (typeof ageings)[number]

/**
 * A tell-tale of how a bike was cared for. The first of its checks that was answered speaks for it, so that the
 * fluid of two brakes is one sign.
 */
export type CareSign = {
  key: string
  title: string
  checks: readonly string[]
  /** By answer: the chance of that answer on a bike kept, average, neglected. In each state they sum to 1. */
  likelihood: Readonly<Record<string, Readonly<Record<CareState, number>>>>
  source: Source
}

export type Fault = {
  key: string
  title: string
  /** One sentence for the person who must decide. */
  means: string
  call: Call
  appliesTo?: KindCondition
  locks?: readonly LockKind[]
  /** `job`: only the job and its recheck open the lock; `reason`: a manager may, for one day. */
  clearedBy?: 'job' | 'reason'
  /**
   * Alternatives in order, the first is the default; empty where no work cures it. Where `causes` is given the
   * jobs are those causes instead and exactly one of them is true.
   */
  jobs: readonly string[]
  causes?: readonly { job: string; share: number }[]
  /** The job that finds out which of the causes it is; done while more than one is possible. */
  diagnosis?: string
  /** Why no work cures it, where `jobs` and `causes` are empty. */
  noJobBecause?: string
  /** Checks that prove the cure. */
  rechecks: readonly string[]
  /** The chance that it is there while none of its checks is answered, by how the bike was cared for. */
  hidden?: Record<CareState, number>
  /** The same on a bike that cannot be started where it stands; as `hidden` where left out. */
  nonRunner?: Record<CareState, number>
  /** That chance grows with the age of the bike; left out where age tells nothing. */
  ages?: Ageing
  /** What it takes off the sale price where it is left, in minor units (starting value). */
  saleOffMinor?: number
  /** How many days longer the bike stands for sale where it is left (starting value). */
  slowerDays?: number
  source: Source
}

export type Part = { name: string; qty: number; unitCost: ThreePoint | number }

export type Job = {
  key: string
  title: string
  appliesTo?: KindCondition
  operations: readonly string[]
  hours: ThreePoint | number
  parts: readonly Part[]
  /** Paid to somebody else, in minor units. */
  outsideWork?: ThreePoint | number
  /** False where stuck fasteners do not slow it: a ride, a valet, a diagnosis. */
  fasteners?: boolean
  cautions?: readonly string[]
  source: Source
}

export type Operation = {
  key: string
  title: string
  hours: ThreePoint | number
  needs?: readonly string[]
  /** Keys of checks whose answer no longer holds once this step was taken. */
  disturbs?: readonly string[]
  fasteners?: boolean
}

export type Caution = { key: string; title: string; says: string }
