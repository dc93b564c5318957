/* Calculations that no shop has, run by a real thread in the place of the shop's own. */

export const reckonings: Record<string, (input: never) => unknown> = {
  double: (number: number) => number * 2,
  throws: (what: string) => {
    throw new RangeError(`${what} is not reckoned with`)
  },
  ends: () => process.exit(7),
  'runs out': () => {
    const kept: number[][] = []
    for (;;) kept.push(new Array(1_000_000).fill(kept.length))
  },
  'answers with a function': () => () => 1,
  'never comes back': () => {
    for (;;) {
      // What a thread of its own is for.
    }
  },
}
