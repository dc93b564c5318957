import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { currentBuild } from '../../lib/desk/build.mjs'
import { may } from '../../lib/shop/who-may'
import { doorOf } from '../../lib/web/door-mark'
import { pages } from '../../lib/web/pages'
import { routes } from '../../lib/web/routes'
import { type RunningShop, root, startShop } from '../browser/support/server'

const build = currentBuild(root)
if (build === null) console.warn('The doors are not listed: there is no build. `npm test` makes one.')

type Manifest = Record<string, string>
type ActionManifest = { node: Record<string, { filename?: string; exportedName?: string }> }

const readBuilt = <T>(file: string): T =>
  JSON.parse(readFileSync(join(root, build ?? '', 'server', file), 'utf8')) as T

/** The addresses of the build, without the groups in brackets that only sort folders. */
function addressesOf(kind: 'page' | 'route'): { address: string; source: string }[] {
  const ownOfNext = /^\/_(not-found|global-error)/
  return Object.keys(readBuilt<Manifest>('app-paths-manifest.json'))
    .filter((key) => key.endsWith(`/${kind}`) && !ownOfNext.test(key))
    .map((key) => {
      const source = key.slice(0, -kind.length - 1)
      return { source, address: source.replace(/\/\([^)]*\)/g, '') || '/' }
    })
}

/** Pictures of the shop, and what a browser asks to put it on its first screen: there is nothing of the shop in them. */
const forEverybody = ['/icon.svg', '/apple-icon.png', '/manifest.webmanifest']

describe.skipIf(build === null)('every way in', () => {
  it('is a page that stands in the table of pages', () => {
    const built = addressesOf('page').map(({ address }) => address)
    expect(built.sort()).toEqual(Object.keys(pages).sort())
  })

  it('is a route that stands in the table of routes, or for everybody', () => {
    const built = addressesOf('route').map(({ address }) => address)
    expect(built.filter((address) => !forEverybody.includes(address)).sort()).toEqual(
      Object.keys(routes).sort(),
    )
  })

  it.each(Object.entries(routes))('is made by the door that its table says: %s', async (address, methods) => {
    const module = (await import(join(root, 'app', address, 'route.ts'))) as Record<string, unknown>
    const made = Object.entries(module).filter(([name]) => /^[A-Z]+$/.test(name))
    expect(Object.fromEntries(made.map(([name, handler]) => [name, doorOf(handler)]))).toEqual(methods)
  })

  it('is an action made by the door for forms', async () => {
    const actions = Object.values(readBuilt<ActionManifest>('server-reference-manifest.json').node)
    expect(actions.length).toBeGreaterThan(5)
    for (const { filename, exportedName } of actions) {
      if (!filename || !exportedName) throw new Error('An action of the build has no name.')
      const module = (await import(join(root, filename))) as Record<string, unknown>
      const verb = doorOf(module[exportedName])
      expect(verb, `${filename} ${exportedName} is not made by a door`).not.toBeNull()
      expect(Object.keys(may)).toContain(verb)
    }
  })
})

describe.skipIf(build === null)('a visitor who is not signed in', () => {
  let shop: RunningShop

  beforeAll(async () => {
    shop = await startShop({ demo: true })
  })
  afterAll(() => shop?.close())

  const visit = (path: string, init: RequestInit = {}) =>
    fetch(shop.url + path, { redirect: 'manual', ...init })
  const atBike = (address: string) =>
    address
      .replace('[bike]', '1')
      .replace('[photo]', 'x')
      .replace('[kind]', 'checks')
      .replace('[entry]', 'fuel-leaks')

  it.each(Object.keys(pages).filter((page) => pages[page as keyof typeof pages] !== 'anyone'))(
    'is led to the sign-in page from %s and sees nothing of it',
    async (page) => {
      const answer = await visit(atBike(page))
      expect(await leadsTo(answer)).toBe('/sign-in')
    },
  )

  it.each(
    Object.entries(routes).flatMap(([address, methods]) =>
      Object.keys(methods).map((method) => [method, address] as const),
    ),
  )('is refused by %s %s', async (method, address) => {
    const answer = await visit(atBike(address), { method, headers: { 'sec-fetch-site': 'same-origin' } })
    expect(answer.status).toBe(401)
    expect(await answer.json()).toMatchObject({ ok: false, refusal: { kind: 'not-signed-in' } })
  })

  it('is refused where a post comes from another place, with or without an Origin header', async () => {
    const elsewhere: Record<string, string>[] = [
      { origin: 'http://elsewhere.example' },
      { 'sec-fetch-site': 'cross-site' },
      {},
    ]
    for (const headers of elsewhere) {
      const answer = await visit('/api/v1/sync', { method: 'POST', headers, body: '{}' })
      expect(answer.status).toBe(403)
    }
  })
})

/** Where an answer leads: by its status, or by the page's own hint where it had begun to stream. */
async function leadsTo(answer: Response): Promise<string | null> {
  const location = answer.headers.get('location')
  if (location) return new URL(location, answer.url).pathname
  const hint = /http-equiv="refresh" content="\d+;url=([^"]+)"/.exec(await answer.text())
  return hint?.[1] ?? null
}
