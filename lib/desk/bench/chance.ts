/**
 * Numbers in [0, 1) from a seed: three words of 32 bits and a counter (the small fast counting generator of the
 * PractRand tests, from memory). Not the generator of the core, so that the two cannot share a fault.
 */
export function chanceFrom(seed: number): () => number {
  let a = seed | 0
  let b = 0x9e3779b9 | 0
  let c = 0x243f6a88 | 0
  let counter = 1
  const next = () => {
    const sum = (a + b + counter) | 0
    counter = (counter + 1) | 0
    a = b ^ (b >>> 9)
    b = (c + (c << 3)) | 0
    c = (((c << 21) | (c >>> 11)) + sum) | 0
    return sum >>> 0
  }
  for (let warm = 0; warm < 12; warm++) next()
  return () => next() / 2 ** 32
}
