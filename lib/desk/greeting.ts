import { networkInterfaces } from 'node:os'
import { renderUnicodeCompact } from 'uqr'
import type { Trust } from '../web/served'

export type Greeting = {
  port: number
  /** The address listened on; undefined is all of this machine. */
  host?: string | undefined
  firstDayCode: string | null
  backInCode?: string | null
  demo: boolean
  /** What devices have to trust; null over plain http. */
  trust?: Trust | null
}

/** What the terminal says once the shop is open: where it is, how a tablet gets there, what to do first. */
export function greeting({
  port,
  host,
  firstDayCode,
  backInCode = null,
  demo,
  trust = null,
}: Greeting): string {
  const scheme = trust ? 'https' : 'http'
  const here = `${scheme}://localhost:${port}`
  const there = lanAddresses(host).map((address) => `${scheme}://${address}:${port}`)
  const paragraphs = [
    [
      demo ? 'The invented shop is open.' : 'Your shop is open.',
      `  On this machine:   ${here}`,
      ...there.map((url) => `  On your network:   ${url}`),
    ],
    ...(trust ? trustLines(trust, { hosts: lanAddresses(host), port }) : plainLines(there[0])),
    firstDayCode
      ? [
          'Nobody has opened this shop yet. Open the page on the machine you will manage it from',
          `and type this code, which works once:   ${firstDayCode}`,
        ]
      : [],
    backInCode
      ? [
          `A manager who cannot sign in opens ${here}/back-in`,
          `and types this code, which works once:   ${backInCode}`,
        ]
      : [],
    ['Ctrl-C closes the shop.'],
  ]
  return `\n${paragraphs
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join('\n'))
    .join('\n\n')}\n`
}

function plainLines(first: string | undefined): string[][] {
  if (!first) return []
  return [
    [qrCode(first), 'Point a tablet or a telephone at it to open the first network address.'],
    [plainHttp],
  ]
}

/** A device that does not trust the certificate yet begins on a page over plain http, and nothing else is there. */
function trustLines(
  { fingerprint }: Trust,
  { hosts, port }: { hosts: readonly string[]; port: number },
): string[][] {
  const first = hosts[0] && `http://${hosts[0]}:${port}/trust`
  const compare = [
    'The page shows this fingerprint (SHA-256). Compare it before you trust it:',
    ...fingerprintRows(fingerprint).map((row) => `  ${row}`),
  ]
  if (!first) return [compare]
  return [
    [qrCode(first), `A new device begins at ${first}`, 'There it is told how to trust this shop, once.'],
    compare,
  ]
}

/** Four rows of eight pairs, as the page shows them, so that two people can read them to each other. */
function fingerprintRows(fingerprint: string): string[] {
  const pairs = fingerprint.split(':')
  return [0, 8, 16, 24].map((from) => pairs.slice(from, from + 8).join(' '))
}

const plainHttp =
  'Between devices this is plain http: anyone on the same network could read along, and a tablet keeps nothing where\n' +
  'there is no network. npm start -- --https serves it over https.'

/** The address as a square code for a camera, in characters of the terminal. */
export function qrCode(text: string): string {
  return renderUnicodeCompact(text, { border: 2 })
}

/**
 * Addresses under which other devices of the network reach this machine, home and office ranges first
 * (RFC 1918). Empty where the server listens to this machine alone.
 */
export function lanAddresses(host?: string): string[] {
  if (host && !['0.0.0.0', '::'].includes(host)) return isLoopback(host) ? [] : [host]
  return Object.values(networkInterfaces())
    .flatMap((addresses) => addresses ?? [])
    .filter(
      ({ family, internal, address }) => family === 'IPv4' && !internal && !address.startsWith('169.254.'),
    )
    .map(({ address }) => address)
    .sort((a, b) => rank(a) - rank(b))
}

function isLoopback(host: string): boolean {
  return host === 'localhost' || host === '::1' || host.startsWith('127.')
}

function rank(address: string): number {
  const order = [/^192\.168\./, /^10\./, /^172\.(1[6-9]|2\d|3[01])\./]
  const at = order.findIndex((range) => range.test(address))
  return at < 0 ? order.length : at
}
