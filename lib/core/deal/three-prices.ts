/** The three figures of a talk about a price, minor units: whole tens of major units below the most that may be paid. */
export interface ThreePrices {
  /** The first figure said. */
  open: number
  /** The figure hoped for. */
  aim: number
  /** The most that may be paid. */
  walkAway: number
}

/** Said in round figures: ten major units. */
const round = 1000

/**
 * Open and aim as shares of the walk-away price, rounded down to ten major units, and neither above what is asked:
 * nobody opens above it. Null where there is no walk-away price. Shares are from 0 to 1, `openShare` ≤ `aimShare`.
 * Common practice, no source.
 */
export function threePrices(
  { walkAway, asking }: { walkAway: number | null; asking: number | null },
  { openShare, aimShare }: { openShare: number; aimShare: number },
): ThreePrices | null {
  if (walkAway === null) return null
  const shareOf = (share: number) => Math.floor((walkAway * share) / round) * round
  const most = asking ?? Number.POSITIVE_INFINITY
  return { open: Math.min(shareOf(openShare), most), aim: Math.min(shareOf(aimShare), most), walkAway }
}
