import { networkInterfaces } from 'node:os'
import { renderUnicodeCompact } from 'uqr'

export type Greeting = {
  port: number
  /** The address listened on; undefined is all of this machine. */
  host?: string | undefined
  firstDayCode: string | null
  backInCode?: string | null
  demo: boolean
}

/** What the terminal says once the shop is open: where it is, how a tablet gets there, what to do first. */
export function greeting({ port, host, firstDayCode, backInCode = null, demo }: Greeting): string {
  const here = `http://localhost:${port}`
  const there = lanAddresses(host).map((address) => `http://${address}:${port}`)
  const paragraphs = [
    [
      demo ? 'The invented shop is open.' : 'Your shop is open.',
      `  On this machine:   ${here}`,
      ...there.map((url) => `  On your network:   ${url}`),
    ],
    there[0]
      ? [qrCode(there[0]), 'Point a tablet or a telephone at it to open the first network address.']
      : [],
    there[0] ? [plainHttp] : [],
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

const plainHttp =
  'Between devices this is plain http: anyone on the same network could read along, so use one you trust.'

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
