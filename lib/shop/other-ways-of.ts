import type { OtherWaysNoted } from '../core/board/ways-out-of-bike'
import type { ThreePoint } from '../core/quantity/three-point'
import type { Prisma } from '../data/generated/client'

export type OtherWaysShown = OtherWaysNoted & {
  version: number
  stripHours: number | null
  breakCostMinor: number | null
}

/** What is noted of one bike's other ways as it is shown; nothing noted is version 0. */
export function otherWaysShown(row: Prisma.OtherWaysGetPayload<object> | null): OtherWaysShown {
  return {
    ...otherWaysOf(row),
    version: row?.version ?? 0,
    stripHours: row?.stripHours ?? null,
    breakCostMinor: row?.breakCostMinor ?? null,
  }
}

/** The same as the calculation takes it. */
export function otherWaysOf(row: Prisma.OtherWaysGetPayload<object> | null): OtherWaysNoted {
  const parts = row && pointsOf(row.partsLowMinor, row.partsLikelyMinor, row.partsHighMinor)
  return {
    trade: row && pointsOf(row.tradeLowMinor, row.tradeLikelyMinor, row.tradeHighMinor),
    parts: parts && { value: parts, stripHours: row.stripHours ?? 0, costs: row.breakCostMinor ?? 0 },
    wastePermit: row?.wastePermit ?? false,
    registryNotice: row?.registryNotice ?? false,
  }
}

function pointsOf(low: number | null, likely: number | null, high: number | null): ThreePoint | null {
  return low === null || likely === null || high === null ? null : { low, likely, high }
}
