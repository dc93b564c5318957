import { cpSync } from 'node:fs'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { openStore } from '../../lib/data/store'
import { signIn } from '../../lib/shop/sign-in'
import { type Role, roles } from '../../lib/shop/who-may'
import { deviceCookie, sessionCookie } from '../../lib/web/cookies'
import { done, type OpenShop, openTestShop, pins } from './open-shop'
import { removeFolder, scratchFolder } from './shop-folder'

/** What a form sends, by the names of its fields; a list has a name that ends in `[]`. */
export type Sent = Record<string, string | readonly string[]>

export function formOf(sent: Sent): FormData {
  const form = new FormData()
  for (const [name, value] of Object.entries(sent)) {
    for (const one of typeof value === 'string' ? [value] : value) form.append(name, one)
  }
  return form
}

/** The cookies of a browser: of an enrolled device, and of the person of a role where one is signed in on it. */
export type Browser = ReadonlyMap<string, string>
export type Browsers = Readonly<Record<Role | 'nobody', Browser>>

export type ShopAtTheDoor = OpenShop & { browsers: Browsers }

/**
 * Opens a shop with a person of each role signed in, and answers how to make copies of it. A copy costs a few
 * files, the first one the hashing of six PINs.
 */
export async function shopToCopy(): Promise<{ copy(): Promise<ShopAtTheDoor>; dispose(): void }> {
  const made = await openTestShop()
  const device = [deviceCookie, made.deviceToken] as const
  const browsers: Record<string, Browser> = { nobody: new Map([device]) }
  for (const role of roles) {
    const person = made[role].who!.personId
    const { token } = done(await signIn({ person, pin: pins[role] }, made.nobody))
    browsers[role] = new Map([device, [sessionCookie, token]])
  }
  await made.store.close()
  return {
    copy: () => copyOf({ ...made, browsers: browsers as Browsers }),
    dispose: () => removeFolder(made.folder),
  }
}

async function copyOf(shop: ShopAtTheDoor): Promise<ShopAtTheDoor> {
  const folder = scratchFolder()
  cpSync(shop.folder, folder, { recursive: true })
  const store = await openStore(folder)
  const { nobody, manager, dealer, technician } = shop
  return {
    ...shop,
    folder,
    store,
    nobody: { ...nobody, store },
    manager: { ...manager, store },
    dealer: { ...dealer, store },
    technician: { ...technician, store },
    async dispose() {
      await store.close()
      removeFolder(folder)
    },
  }
}

/** Every row that is stored, by table, each as text: read beside the store, which is asked nothing. */
export function everyRow({ folder }: Pick<OpenShop, 'folder'>): ReadonlyMap<string, readonly string[]> {
  const file = new Database(join(folder, 'shop.db'), { readonly: true })
  try {
    const named = file.prepare(
      "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name",
    )
    const tables = (named.all() as { name: string }[]).map(({ name }) => name)
    return new Map(
      tables.map((name) => [
        name,
        file
          .prepare(`SELECT * FROM "${name}"`)
          .all()
          .map((row) => JSON.stringify(row)),
      ]),
    )
  } finally {
    file.close()
  }
}

/** How many rows of each table are new or other than before. @throws where a row is gone. */
export function rowsWritten(
  before: ReturnType<typeof everyRow>,
  after: ReturnType<typeof everyRow>,
): Record<string, number> {
  const written = [...after].map(([table, rows]) => {
    const had = before.get(table) ?? []
    if (rows.length < had.length) throw new Error(`${had.length - rows.length} rows of ${table} are gone`)
    const known = new Set(had)
    return [table, rows.filter((row) => !known.has(row)).length] as const
  })
  return Object.fromEntries(written.filter(([, count]) => count > 0))
}
