import type { Call, Part } from '../checks/catalogue'
import type { DecisionOf } from '../checks/decision.input'
import type { CareChance, Evidence } from '../checks/faults'
import type { ThreePoint } from '../quantity/three-point'

/** A fault that asks for the job. */
export type JobFault = {
  fault: string
  title: string
  state: 'found' | 'added' | 'open'
  call: Call
  chance: CareChance
  /** Where the fault has several causes: the share of this job among them. */
  share: number | null
  because: readonly Evidence[]
}

/** One job on one bike, with why it is there and where a person changed it. */
export type JobLine = {
  key: string
  title: string
  /** The severest call of its faults; `pays` for a job that was added without a fault. */
  call: Call
  /** `in`: counted in the estimate; `left`: possible and not counted; `dropped`: a person took it out. */
  state: 'in' | 'left' | 'dropped'
  /** The chance that it is needed. */
  chance: CareChance
  faults: readonly JobFault[]
  operations: readonly string[]
  hours: ThreePoint | number
  parts: readonly Part[]
  outsideWork: ThreePoint | number
  /** False where stuck fasteners do not slow it. */
  fasteners: boolean
  cautions: readonly string[]
  /** Key of the fault among whose causes it stands, null otherwise. */
  oneOf: string | null
  /** Not in the catalogue: a person described it. */
  own: boolean
  addedBy: DecisionOf<'add-job'> | null
  changed: DecisionOf<'change-job'> | null
  droppedBy: DecisionOf<'drop-job'> | null
}

/** A symptom of which exactly one job is the cure. Shares sum to 1. */
export type JobGroup = {
  name: string
  chance: CareChance
  jobs: Readonly<Record<string, number>>
}

/** A fault that no job in the estimate cures, and what it is expected to take off the sale price. */
export type LeftFault = {
  fault: string
  title: string
  call: Call
  state: 'found' | 'added' | 'open'
  chance: CareChance
  /** Chance (mean over how the bike was cared for) times what it takes off. Not rounded. */
  expectedSaleOffMinor: number
  /** The job that would cure it, or null. */
  job: string | null
  because: readonly Evidence[]
}

export type Proposal = {
  jobs: readonly JobLine[]
  groups: readonly JobGroup[]
  left: readonly LeftFault[]
}
