import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { z } from 'zod'
import type { Store } from '../data/store'

export type SignInTile = {
  id: string
  name: string
  /** Shown only in the demo, where every person is invented. */
  pin: string | null
}

/** Who may sign in here, by name. Only an enrolled device is told: a stranger learns no name. */
export async function readSignInTiles(
  store: Store,
  given: { deviceId: string | null; demo: boolean },
): Promise<SignInTile[]> {
  if (!given.deviceId) return []
  const people = await store.db.person.findMany({
    where: { leftAt: null },
    orderBy: { name: 'asc' },
    select: { id: true, name: true },
  })
  const shown = given.demo ? await readDemoPeople(store) : null
  const pinOf = new Map(shown?.map(({ name, pin }) => [name, pin]))
  return people.map(({ id, name }) => ({ id, name, pin: pinOf.get(name) ?? null }))
}

/** Where the demo writes its invented people down. A real shop's folder never holds this file. */
export const demoFile = 'demo-sign-in.json'

const demoPeople = z.object({ people: z.array(z.object({ name: z.string(), pin: z.string() })) })

/** The invented people and their PINs; null where this is no demo. */
export async function readDemoPeople(store: Store): Promise<{ name: string; pin: string }[] | null> {
  try {
    return demoPeople.parse(JSON.parse(await readFile(join(store.folder, demoFile), 'utf8'))).people
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null
    throw error
  }
}
