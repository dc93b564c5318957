import { type get, type RequestOptions, request } from 'node:http'
import { request as requestSecurely } from 'node:https'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { currentBuild } from '../../lib/desk/build.mjs'
import { certificateAddress, hideNoticeAddress } from '../../lib/web/served'
import { type RunningShop, root, startShop } from '../browser/support/server'

const built = currentBuild(root) !== null
if (!built) console.warn('The server is not tried over https: there is no build. `npm test` makes one.')

type Answer = { status: number; headers: Record<string, string | string[] | undefined>; body: Buffer }
type Asked = RequestOptions & { send?: string; ca?: string }

function asked(how: typeof get, { send, ...options }: Asked): Promise<Answer> {
  return new Promise((done, fail) => {
    const sent = how({ agent: false, ...options } as RequestOptions, (answered) => {
      const parts: Buffer[] = []
      answered.on('data', (part) => parts.push(part))
      answered.once('end', () =>
        done({ status: answered.statusCode ?? 0, headers: answered.headers, body: Buffer.concat(parts) }),
      )
    })
    sent.once('error', fail)
    sent.end(send)
  })
}

describe.skipIf(!built)('a shop over https', () => {
  let shop: RunningShop
  let at: { host: string; port: number }
  let ca: string
  beforeAll(async () => {
    shop = await startShop({ demo: true, https: true })
    const { hostname, port } = new URL(shop.url)
    at = { host: hostname, port: Number(port) }
    const { body } = await plain(certificateAddress)
    ca = `-----BEGIN CERTIFICATE-----\n${body.toString('base64')}\n-----END CERTIFICATE-----\n`
  })
  afterAll(() => shop?.close())

  const plain = (path: string, over: Asked = {}) => asked(request as typeof get, { ...at, path, ...over })
  const secure = (path: string, over: Asked = {}) =>
    asked(requestSecurely as typeof get, { ...at, path, ca, ...over })
  const asOther = { headers: { host: '192.168.1.20:3000' } }

  it('is trusted by whoever trusts the certificate it hands out, and by nobody else', async () => {
    expect((await secure('/sign-in')).status).toBe(200)
    const stranger = asked(requestSecurely as typeof get, { ...at, path: '/sign-in' })
    await expect(stranger).rejects.toThrow(/certificate|issuer/i)
  })

  it('hands the certificate out over plain http as what devices open to trust it', async () => {
    const { status, headers, body } = await plain(certificateAddress)
    expect(status).toBe(200)
    expect(headers['content-type']).toBe('application/x-x509-ca-cert')
    expect(headers).not.toHaveProperty('content-disposition')
    // DER of a certificate: a sequence with two octets of length.
    expect([...body.subarray(0, 2)]).toEqual([0x30, 0x82])
  })

  it('hands out no key, by no address', async () => {
    for (const path of [
      certificateAddress,
      '/trust',
      '/certificates/authority.pem',
      '/trust/../certificates/authority.pem',
    ])
      expect((await plain(path)).body.toString('latin1')).not.toContain('PRIVATE KEY')
  })

  it('tells over plain http how to trust it, with the fingerprint, and nothing of the shop', async () => {
    const { X509Certificate } = await import('node:crypto')
    const { status, body } = await plain('/trust', asOther)
    expect(status).toBe(200)
    const page = body.toString('utf8')
    const pairs = new X509Certificate(ca).fingerprint256.split(':')
    for (const from of [0, 8, 16, 24]) expect(page).toContain(pairs.slice(from, from + 8).join(' '))
    expect(page).toContain('http://192.168.1.20:3000/trust')
    expect(page).toContain('https://192.168.1.20:3000/')
    expect(page).not.toContain('Plain http.')
  })

  it.each(['/sign-in', '/board?by=margin', '/bikes/1', '/api/v1/sync', '/_next/image?url=x'])(
    'leads %s from plain http to https, and not for ever',
    async (path) => {
      const { status, headers, body } = await plain(path, asOther)
      expect(status).toBe(307)
      expect(headers.location).toBe(`https://192.168.1.20:3000${path}`)
      expect(headers).not.toHaveProperty('set-cookie')
      expect(body).toHaveLength(0)
    },
  )

  it('leads a device that comes over plain http for the first time to where it is told', async () => {
    expect((await plain('/', asOther)).headers.location).toBe('/trust')
    expect((await plain('/', { headers: { host: 'localhost:3000' } })).headers.location).toBe(
      'https://localhost:3000/',
    )
  })

  it('takes no change over plain http', async () => {
    const { status, headers } = await plain('/api/v1/sync', { method: 'POST', send: '{}', ...asOther })
    expect(status).toBe(307)
    expect(headers.location).toMatch(/^https:/)
  })

  it.each(['', 'a b', '/evil', 'x@'])(
    'leads nobody anywhere whose request names the shop "%s"',
    async (host) => {
      const { status, headers } = await plain('/sign-in', { headers: { host }, setHost: false })
      if (status === 307) expect(new URL(String(headers.location)).host).not.toBe('')
      else expect(status).toBe(400)
    },
  )

  it('says nothing of how long a browser should insist on https: a shop may go back', async () => {
    expect((await secure('/sign-in')).headers).not.toHaveProperty('strict-transport-security')
  })

  it('gives cookies that a browser sends over https only, to this host only', async () => {
    const page = (await secure('/sign-in')).body.toString('utf8')
    const [, action] = /name="(\$ACTION_ID_[0-9a-f]+|\$ACTION_REF_[^"]+)"/.exec(page) ?? []
    expect(action).toBeDefined()
    const fields = formFields(page, 'Demo')
    const origin = `https://${at.host}:${at.port}`
    const { status, headers } = await secure('/sign-in', sentForm(fields, { origin }))
    expect(status).toBe(303)
    const cookies = [headers['set-cookie'] ?? []].flat()
    const device = cookies.find((cookie) => cookie.startsWith('__Host-sl_device='))
    expect(device).toMatch(/; Secure/i)
    expect(device).toMatch(/; HttpOnly/i)
    expect(device).toMatch(/; Path=\//i)
    expect(device).not.toMatch(/Domain/i)
    expect(cookies.find((cookie) => cookie.startsWith('sl_device='))).toMatch(/Max-Age=0/i)
  })

  it('takes no form from a page that came over plain http, whatever the request says of itself', async () => {
    const fields = formFields((await secure('/sign-in')).body.toString('utf8'), 'Demo')
    const origin = `http://${at.host}:${at.port}`
    const { headers } = await secure('/sign-in', sentForm(fields, { origin, 'x-forwarded-proto': 'http' }))
    expect(headers).not.toHaveProperty('set-cookie')
  })

  it('has nothing to complain of', () => {
    expect(shop.printed()).not.toMatch(/error|warn/i)
  })
})

describe.skipIf(!built)('a shop over plain http', () => {
  let shop: RunningShop
  let at: { host: string; port: number }
  beforeAll(async () => {
    shop = await startShop()
    const { hostname, port } = new URL(shop.url)
    at = { host: hostname, port: Number(port) }
  })
  afterAll(() => shop?.close())
  const ask = (path: string, headers: Record<string, string> = {}) =>
    asked(request as typeof get, { ...at, path, headers })
  const pageAt = async (headers: Record<string, string>) =>
    (await ask('/first-day', headers)).body.toString('utf8')
  const other = 'shop.lan:3000'

  it('says so on top of each page that another machine opened, with the way to change it', async () => {
    const page = await pageAt({ host: other })
    expect(page).toContain('Plain http.')
    expect(page).toContain('href="/trust"')
    const told = (await ask('/trust', { host: other })).body.toString('utf8')
    expect(told).toContain('npm start -- --https')
  })

  it.each(['localhost:3000', '127.0.0.1:3000', '[::1]:3000', 'localhost'])(
    'says nothing of it on the machine itself (%s)',
    async (host) => {
      expect(await pageAt({ host })).not.toContain('Plain http.')
    },
  )

  it('believes a proxy on this machine that the page came over https', async () => {
    expect(await pageAt({ host: other, 'x-forwarded-proto': 'https' })).not.toContain('Plain http.')
  })

  it('hides the line until the browser is closed, and leads back to where one was', async () => {
    const { status, headers } = await ask(hideNoticeAddress, {
      host: other,
      referer: `http://${other}/bikes?find=x`,
    })
    expect(status).toBe(303)
    expect(headers.location).toBe('/bikes?find=x')
    const [cookie = ''] = [headers['set-cookie'] ?? []].flat()
    expect(cookie).not.toMatch(/expires|max-age/i)
    expect(await pageAt({ host: other, cookie: cookie.split(';')[0] ?? '' })).not.toContain('Plain http.')
  })

  it.each(['http://shop.lan//evil.example/x', 'nonsense', ''])(
    'leads nobody to another site (%s)',
    async (referer) => {
      const { headers } = await ask(hideNoticeAddress, { host: other, referer })
      expect(headers.location).toMatch(/^\/(?!\/)/)
    },
  )

  it('has no certificate to hand out', async () => {
    expect((await ask(certificateAddress)).status).toBe(404)
  })
})

/** What a browser without scripts would send of the form with that label: its hidden fields. */
function formFields(page: string, label: string): [string, string][] {
  const form = new RegExp(`<form[^>]*aria-label="${label}"[\\s\\S]*?</form>`).exec(page)?.[0] ?? ''
  return [...form.matchAll(/<input[^>]*>/g)].flatMap(([input]) => {
    const name = /name="([^"]*)"/.exec(input)?.[1]
    const value = /value="([^"]*)"/.exec(input)?.[1] ?? ''
    const plainText = value.replaceAll('&quot;', '"').replaceAll('&amp;', '&')
    return name ? [[name, plainText] as [string, string]] : []
  })
}

function sentForm(fields: readonly [string, string][], headers: Record<string, string>): Asked {
  const mark = 'a-line-that-stands-between'
  const parts = fields.map(
    ([name, value]) => `--${mark}\r\ncontent-disposition: form-data; name="${name}"\r\n\r\n${value}\r\n`,
  )
  return {
    method: 'POST',
    headers: { ...headers, 'content-type': `multipart/form-data; boundary=${mark}` },
    send: `${parts.join('')}--${mark}--\r\n`,
  }
}
