/** A clock that is off by less is as good as ours: networks take time, and so do people between look and tap. */
export const clockToleranceMs = 2 * 60_000

/**
 * The instant a device says, by our clock: put right by how far its clock is ahead where that is more than the
 * tolerance, and never after it was received. `clockAheadMs` of the answer is what it was put right by; null where
 * it stands as it was said.
 */
export function takenByDevice(
  said: string,
  { now, clockAheadMs }: { now: Date; clockAheadMs: number | null },
): { takenAt: Date; clockAheadMs: number | null } {
  const by = clockAheadMs !== null && Math.abs(clockAheadMs) > clockToleranceMs ? clockAheadMs : null
  const taken = new Date(new Date(said).getTime() - (by ?? 0))
  return { takenAt: taken > now ? now : taken, clockAheadMs: by }
}
