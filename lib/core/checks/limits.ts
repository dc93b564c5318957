import type { Unit } from '../quantity/units'
import type { Source } from './catalogue'

export const limitScopes = ['bike', 'model', 'shop'] as const
export type LimitScope = (typeof limitScopes)[number]

/** A limit somebody entered: stamped on this bike's part, out of a model's data, or for the whole shop. */
export type EnteredLimit = {
  id: string
  check: string
  scope: LimitScope
  /** Only for this position, or null for all of them. */
  position: string | null
  min: number | null
  max: number | null
  asNew: number | null
  saleMin: number | null
  saleMax: number | null
  /** Of all the figures above. */
  unit: Unit
  source: Source
}

/** One bound with where it comes from, in the unit of the limit that holds it. */
export type BoundInForce = {
  value: number
  source: Source
  /** The scope of the entered limit, or `general` for the catalogue's figure. */
  scope: LimitScope | 'general'
}

/** What a reading is held against. All figures are in `unit`, which is the check's own. */
export type LimitInForce = {
  unit: Unit
  min: BoundInForce | null
  max: BoundInForce | null
  asNew: number | null
  saleMin: BoundInForce | null
  saleMax: BoundInForce | null
}
