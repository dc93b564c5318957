import { afterEach, describe, expect, it } from 'vitest'
import { isThisMachine } from '../../lib/web/scheme'
import { addressForOthers, type Served, shareServed } from '../../lib/web/served'

afterEach(() => shareServed(null))

const trust = { der: Buffer.alloc(0), name: 'x', fingerprint: 'AA', notAfter: new Date(0) }
const overHttp: Served = { hosts: ['192.168.1.20', '10.0.0.2'], port: 3000, trust: null }
const from = (headers: Record<string, string>) => (name: string) => headers[name] ?? null

describe('the address another device reaches a page by', () => {
  it.each([
    ['as it was opened', { host: 'shop.lan:3000' }, overHttp, 'http://shop.lan:3000'],
    ['over https', { host: 'shop.lan', 'x-forwarded-proto': 'https' }, overHttp, 'https://shop.lan'],
    ['opened on this machine', { host: 'localhost:3000' }, overHttp, 'http://192.168.1.20:3000'],
    [
      'on this machine, over https',
      { host: '127.0.0.1:1' },
      { ...overHttp, trust },
      'https://192.168.1.20:3000',
    ],
    ['where nobody else can reach it', { host: '[::1]:3000' }, { ...overHttp, hosts: [] }, null],
    ['without a host', {}, overHttp, 'http://192.168.1.20:3000'],
    ['before the server said anything', { host: 'localhost' }, null, null],
  ])('%s', (_title, headers, served, expected) => {
    shareServed(served)
    expect(addressForOthers(from(headers))).toBe(expected)
  })

  it.each([
    ['localhost', true],
    ['LOCALHOST:3000', true],
    ['127.0.0.1:3000', true],
    ['[::1]:80', true],
    ['localhost.evil.example', false],
    ['127.0.0.1.evil.example', false],
    ['192.168.1.20:3000', false],
    [null, false],
  ])('%s is this machine: %s', (host, expected) => {
    expect(isThisMachine(host)).toBe(expected)
  })
})
