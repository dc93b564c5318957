import type { Kept } from './outbox'

/**
 * Where what is not sent yet is kept. This one lasts as long as the page; one that lasts longer takes its
 * place without the outbox noticing.
 */
export type Shelf = {
  load(): Promise<readonly Kept[]>
  keep(one: Kept): Promise<void>
  drop(id: string): Promise<void>
}

export function shelfInMemory(): Shelf {
  const kept = new Map<string, Kept>()
  return {
    load: async () => [...kept.values()],
    keep: async (one) => {
      kept.set(one.id, one)
    },
    drop: async (id) => {
      kept.delete(id)
    },
  }
}
