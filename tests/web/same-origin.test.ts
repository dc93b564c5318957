import { describe, expect, it } from 'vitest'
import { isSameOrigin, type OriginFacts } from '../../lib/web/same-origin'

const silent: OriginFacts = {
  method: 'POST',
  host: 'shop.lan:3000',
  origin: null,
  secFetchSite: null,
  referer: null,
}

const table: [string, Partial<OriginFacts>, boolean][] = [
  ['reading is open to everyone', { method: 'GET', origin: 'http://other.lan' }, true],
  ['the method may be written small', { method: 'head' }, true],
  ['a browser that says nothing is refused', {}, false],
  ['the same origin passes', { origin: 'http://shop.lan:3000' }, true],
  ['capital letters of a host do not matter', { origin: 'http://SHOP.lan:3000' }, true],
  ['another host is refused', { origin: 'http://other.lan:3000' }, false],
  ['another port is refused', { origin: 'http://shop.lan:3001' }, false],
  ['a host that only begins alike is refused', { origin: 'http://shop.lan:3000.other.lan' }, false],
  ['a name before our host is refused', { origin: 'http://x@shop.lan:3001' }, false],
  ['the origin "null" of a sandboxed frame is refused', { origin: 'null' }, false],
  ['an empty origin is refused', { origin: '' }, false],
  ['an origin that is no web address is refused', { origin: 'chrome-extension://shop.lan:3000' }, false],
  ['the usual port may be left out on one side', { host: 'shop.lan:80', origin: 'http://shop.lan' }, true],
  ['https behind a proxy passes', { host: 'shop.lan', origin: 'https://shop.lan' }, true],
  ['https from https passes', { scheme: 'https', origin: 'https://shop.lan:3000' }, true],
  ['plain http from plain http passes', { scheme: 'http', origin: 'http://shop.lan:3000' }, true],
  ['https from a page of plain http is refused', { scheme: 'https', origin: 'http://shop.lan:3000' }, false],
  ['plain http from a page of https is refused', { scheme: 'http', origin: 'https://shop.lan:3000' }, false],
  ['a referer of another scheme is refused', { scheme: 'https', referer: 'http://shop.lan:3000/' }, false],
  ['an address of IPv6 passes', { host: '[fe80::1]:3000', origin: 'http://[fe80::1]:3000' }, true],
  [
    'a right origin that the browser calls cross-site is refused',
    { origin: 'http://shop.lan:3000', secFetchSite: 'cross-site' },
    false,
  ],
  ['sent again by hand passes', { origin: 'http://shop.lan:3000', secFetchSite: 'none' }, true],
  ['without an origin, same-origin passes', { secFetchSite: 'same-origin' }, true],
  ['without an origin, same-site is refused', { secFetchSite: 'same-site' }, false],
  ['without an origin, cross-site is refused', { secFetchSite: 'cross-site' }, false],
  ['without an origin, none is refused', { secFetchSite: 'none' }, false],
  [
    'a right referer does not help against the browser itself',
    { secFetchSite: 'cross-site', referer: 'http://shop.lan:3000/board' },
    false,
  ],
  ['an old browser passes by its referer', { referer: 'http://shop.lan:3000/bikes/new?x=1' }, true],
  ['a strange referer is refused', { referer: 'http://other.lan/?u=http://shop.lan:3000/' }, false],
  ['a request without a host is refused', { host: null, origin: 'http://shop.lan:3000' }, false],
  ['a host that cannot be one is refused', { host: 'a b', origin: 'http://shop.lan:3000' }, false],
]

describe('where a change may come from', () => {
  it.each(table)('%s', (_title, facts, allowed) => {
    expect(isSameOrigin({ ...silent, ...facts })).toBe(allowed)
  })
})
