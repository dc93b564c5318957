/** Numbers in [0, 1) from a seed: a Weyl sequence stirred by shifts and products of 32 bits. */
export function sequence(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x9e3779b9) | 0
    let mixed = Math.imul(state ^ (state >>> 16), 0x21f0aaad)
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97)
    return ((mixed ^ (mixed >>> 15)) >>> 0) / 2 ** 32
  }
}
