/**
 * The one promise a store must keep whatever else goes wrong: what was acknowledged is there, and nobody
 * sees what was never committed. The pattern is the same whether the writes are function calls or requests
 * to a server, so the ways to write, fail and look are handed in.
 */
export type IsolationPattern = {
  /** Ways to write something that lasts; each resolves with a name once the store said it was saved. */
  writes: readonly ((n: number) => Promise<string>)[]
  /** Writes something, awaits a password hash inside the transaction, then fails. Must reject. */
  fail: (n: number) => Promise<unknown>
  /** How much of what the failing ones wrote can be seen now. */
  dirty: () => Promise<number>
  /** All names that are stored now. */
  stored: () => Promise<ReadonlySet<string>>
  counts: { writes: number; failures: number; looks: number }
}

export type IsolationOutcome = {
  acknowledged: number
  lost: string[]
  dirtyReads: number
  leftovers: number
  /** Failing transactions that were told they succeeded. */
  falseSuccesses: number
}

/** All at once, shuffled into each other evenly; resolves when the last has been answered. */
export async function acknowledgedWritesBesideFailures(pattern: IsolationPattern): Promise<IsolationOutcome> {
  const { writes, counts } = pattern
  const acknowledged: string[] = []
  let dirtyReads = 0
  let falseSuccesses = 0

  const write = async (n: number) => {
    acknowledged.push(await inTurn(() => writes[n % writes.length]!(n)))
  }
  const fail = async (n: number) => {
    const failed = await pattern.fail(n).then(
      () => false,
      () => true,
    )
    if (!failed) falseSuccesses += 1
  }
  const look = async () => {
    const seen = await pattern.dirty()
    dirtyReads += seen
  }
  await Promise.all(
    interleaved([
      { count: counts.failures, start: fail },
      { count: counts.writes, start: write },
      { count: counts.looks, start: look },
    ]),
  )
  const stored = await pattern.stored()
  return {
    acknowledged: acknowledged.length,
    lost: acknowledged.filter((name) => !stored.has(name)),
    dirtyReads,
    leftovers: await pattern.dirty(),
    falseSuccesses,
  }
}

/**
 * On a slow machine the queue behind all the failing ones is longer than a write waits for its turn. It is told so, nothing
 * of it is kept, and whoever sent it sends it again.
 */
async function inTurn(write: () => Promise<string>): Promise<string> {
  for (;;) {
    try {
      return await write()
    } catch (error) {
      if ((error as { code?: unknown }).code !== 'P2028') throw error
    }
  }
}

type Series = { count: number; start: (n: number) => Promise<void> }

function interleaved(series: readonly Series[]): Promise<void>[] {
  return series
    .flatMap(({ count, start }) => Array.from({ length: count }, (_, n) => ({ at: n / count, start, n })))
    .sort((a, b) => a.at - b.at)
    .map(({ start, n }) => start(n))
}
