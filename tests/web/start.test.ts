import { mkdtemp, rm } from 'node:fs/promises'
import { request } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { currentBuild } from '../../lib/desk/build.mjs'
import { type RunningShop, root, startShop } from '../browser/support/server'

const built = currentBuild(root) !== null
if (!built) console.warn('The server is not tried: there is no build. `npm test` makes one.')

describe.skipIf(!built)('the server of a shop nobody has opened yet', () => {
  let shop: RunningShop

  beforeAll(async () => {
    shop = await startShop()
  })
  afterAll(() => shop?.close())

  it('gives a code for the first day', () => {
    expect(shop.firstDayCode).toMatch(/^[0-9A-Z]{4}(-[0-9A-Z]{4})+$/)
  })

  it('says that it is well', async () => {
    expect(await ask('/healthz')).toMatchObject({ status: 200, body: 'ok' })
    expect(await ask('/healthz', { method: 'POST' })).toMatchObject({ status: 405 })
  })

  it('has nothing to say to a browser that asks for an icon unbidden, and no complaint either', async () => {
    expect(await ask('/favicon.ico')).toMatchObject({ status: 204, body: '' })
  })

  it('leads the first visit to a page', async () => {
    const answer = await fetch(`${shop.url}/`)
    expect(answer.status).toBe(200)
    expect(answer.headers.get('content-type')).toContain('text/html')
  })

  it.each([
    ['the first page', '/'],
    ['a page that is not there', '/no/such/page'],
    ['an address that cannot be read', '/%E0%A4%A'],
    ['a file of the build', '/icon.svg'],
    ['a file that is not there', '/_next/static/no-such-file.js'],
    ['a picture made smaller, which is not offered', '/_next/image?url=%2Ficon.svg&w=64&q=75'],
    ['an answer for a program', '/api/v1/photos/no-such-photo'],
    ['a route that is not there', '/api/v1/no-such-route'],
    ['the health of the server', '/healthz'],
  ])('puts the strict headers on %s', async (_title, path) => {
    const { headers } = await ask(path)
    expect(headers).toMatchObject({
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'same-origin',
      'cross-origin-opener-policy': 'same-origin',
      'permissions-policy': expect.stringContaining('camera=(self)'),
    })
    const policy = directivesOf(headers['content-security-policy'])
    expect(policy['default-src']).toEqual(["'self'"])
    expect(policy['style-src']).toEqual(["'self'"])
    expect(policy['script-src']).toEqual([
      "'self'",
      expect.stringMatching(/^'nonce-[A-Za-z0-9+/=]{24}'$/),
      "'strict-dynamic'",
    ])
    expect(policy['frame-ancestors']).toEqual(["'none'"])
    expect(policy).not.toHaveProperty('upgrade-insecure-requests')
    expect(headers).not.toHaveProperty('x-powered-by')
  })

  it.each([
    ['a page that is not there', '/no/such/page', 404],
    ['an address that cannot be read', '/%E0%A4%A', 404],
    ['the builder’s own page for faults', '/_error', 404],
  ])('shows %s in a way the strict headers allow', async (_title, path, status) => {
    const { body, headers, status: answered } = await ask(path)
    expect(answered).toBe(status)
    expect(body).toContain('There is no such page here')
    expect(body).not.toMatch(/<style|\sstyle=|\son[a-z]+=/i)
    const nonce = nonceOf(headers)
    const scripts = body.match(/<script\b[^>]*>/g) ?? []
    expect(scripts.length).toBeGreaterThan(0)
    expect(scripts.filter((script) => !script.includes(`nonce="${nonce}"`))).toEqual([])
  })

  it('makes a new nonce for each answer', async () => {
    const nonces = await Promise.all([1, 2, 3, 4].map(async () => nonceOf((await ask('/')).headers)))
    expect(new Set(nonces).size).toBe(4)
  })

  it('lets no stranger choose the nonce', async () => {
    const chosen = "script-src 'nonce-Y2hvc2VuLWJ5LW1lLi4uLg=='"
    const { body, headers } = await ask('/no/such/page', {
      headers: { 'content-security-policy': chosen, 'content-security-policy-report-only': chosen },
    })
    expect(body).not.toContain('Y2hvc2VuLWJ5LW1lLi4uLg==')
    expect(body).toContain(`nonce="${nonceOf(headers)}"`)
  })

  it.each([
    'middleware',
    'src/middleware:src/middleware:src/middleware:src/middleware:src/middleware',
    'proxy:proxy:proxy:proxy:proxy',
  ])('answers the same whether or not a stranger claims to be the inside (%s)', async (claim) => {
    const plain = await ask('/api/v1/photos/no-such-photo')
    const forged = await ask('/api/v1/photos/no-such-photo', {
      headers: { 'x-middleware-subrequest': claim },
    })
    expect(forged.status).toBe(plain.status)
    expect(withoutNonce(forged) === withoutNonce(plain)).toBe(true)
    expect([401, 403, 404]).toContain(forged.status)
  })

  it('has nothing to complain of', () => {
    expect(shop.printed()).not.toMatch(/error|warn/i)
  })

  function withoutNonce({ body, headers }: Answer): string {
    return body.replaceAll(nonceOf(headers), '')
  }

  type Answer = { status: number; headers: Record<string, string>; body: string }

  /** A plain request, since `fetch` tidies addresses up and keeps some headers to itself. */
  function ask(
    path: string,
    { method = 'GET', headers = {} }: { method?: string; headers?: Record<string, string> } = {},
  ): Promise<Answer> {
    const { hostname, port } = new URL(shop.url)
    return new Promise((resolve, reject) => {
      const sent = request({ hostname, port, path, method, headers }, (response) => {
        let body = ''
        response.setEncoding('utf8')
        response.on('data', (chunk) => {
          body += chunk
        })
        response.on('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            headers: response.headers as Record<string, string>,
            body,
          }),
        )
      })
      sent.on('error', reject)
      sent.end()
    })
  }
})

describe.skipIf(!built)('the server of the invented shop', () => {
  it('makes its shop at the first start, keeps it at the next, and lets anybody look round', async () => {
    const folder = await mkdtemp(join(tmpdir(), 'stand-ledger-demo-'))
    try {
      const first = await startShop({ demo: true, folder })
      const page = await (await fetch(first.url)).text()
      await first.close()
      expect(first.firstDayCode).toBeNull()
      expect(first.printed()).toMatch(/Telling story 1 of/)
      expect(page).toContain('Use this device in the demo')

      const second = await startShop({ demo: true, folder })
      await second.close()
      expect(second.firstDayCode).toBeNull()
      expect(second.printed()).not.toMatch(/Telling story/)

      const asRealShop = await startShop({ folder })
      const door = await (await fetch(asRealShop.url)).text()
      await asRealShop.close()
      expect(door).not.toContain('Use this device in the demo')
    } finally {
      await rm(folder, { recursive: true, force: true })
    }
  })
})

function directivesOf(policy = ''): Record<string, string[]> {
  return Object.fromEntries(
    policy.split(';').map((directive) => {
      const [name = '', ...values] = directive.trim().split(/\s+/)
      return [name, values]
    }),
  )
}

function nonceOf(headers: Record<string, string>): string {
  return /'nonce-([^']+)'/.exec(headers['content-security-policy'] ?? '')?.[1] ?? 'none'
}
