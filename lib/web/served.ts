import { isSecure, isThisMachine } from './scheme'

/** What a device is told so that it can trust the shop's own certificate. */
export type Trust = {
  /** The authority's certificate as DER. */
  der: Buffer
  name: string
  /** SHA-256, as devices show it: pairs of hex digits with colons between. */
  fingerprint: string
  notAfter: Date
}

/** How the shop is served: where devices of its network find it, and what they trust; null over plain http. */
export type Served = {
  /** Addresses under which others reach this machine, the likeliest first; none where it listens to itself alone. */
  hosts: readonly string[]
  port: number
  trust: Trust | null
}

export const certificateAddress = '/trust/stand-ledger.crt'
/** What browsers and settings take for an authority to trust. RFC 2585 has `application/pkix-cert` for any other. */
export const certificateType = 'application/x-x509-ca-cert'
export const hideNoticeAddress = '/trust/hide-notice'
/** Set once the line about plain http was put away; gone when the browser is closed. */
export const plainNoticeCookie = 'sl_plain'

const key = Symbol.for('stand-ledger.served')

/** The server says how it serves; Next loads this module several times in one process. */
export function shareServed(served: Served | null): void {
  ;(globalThis as { [key]?: Served | null })[key] = served
}

export function servedHere(): Served | null {
  return (globalThis as { [key]?: Served | null })[key] ?? null
}

/**
 * The address under which another device reaches the page that was asked for: the one it was opened by or, where that
 * means this very machine, its first one in the network. Null where nobody else can reach it.
 */
export function addressForOthers(header: (name: string) => string | null): string | null {
  const scheme = isSecure(header) ? 'https' : 'http'
  const host = header('host')
  if (host && !isThisMachine(host)) return `${scheme}://${host}`
  const served = servedHere()
  return served?.hosts[0] ? `${served.trust ? 'https' : 'http'}://${served.hosts[0]}:${served.port}` : null
}
