import { BlockList, isIP } from 'node:net'
import { hostname, networkInterfaces } from 'node:os'
import { lanAddresses } from './greeting'

/*
 * What the shop's own authority may vouch for. Whoever stole its key could otherwise pretend to be any site towards a
 * device that trusts it; so it is held to names and addresses that exist in a local network only.
 */

/** Names that no public site can have, and those a home network gives its machines. */
const localTrees = [
  'localhost', // RFC 6761
  'local', // RFC 6762, names that machines give themselves
  'home.arpa', // RFC 8375
  'internal', // set aside for private use by ICANN, 2024
  'lan',
  'home',
]

/** Address and mask as an octet string (RFC 5280, 4.2.1.10): v4 in 8 octets, v6 in 32. */
type Range = { address: string; prefix: number; family: 'ipv4' | 'ipv6' }

const localRanges: readonly Range[] = [
  { address: '127.0.0.0', prefix: 8, family: 'ipv4' }, // RFC 1122, this machine
  { address: '10.0.0.0', prefix: 8, family: 'ipv4' }, // RFC 1918
  { address: '172.16.0.0', prefix: 12, family: 'ipv4' }, // RFC 1918
  { address: '192.168.0.0', prefix: 16, family: 'ipv4' }, // RFC 1918
  { address: '169.254.0.0', prefix: 16, family: 'ipv4' }, // RFC 3927
  { address: '100.64.0.0', prefix: 10, family: 'ipv4' }, // RFC 6598
  { address: '::1', prefix: 128, family: 'ipv6' }, // RFC 4291, this machine
  { address: 'fc00::', prefix: 7, family: 'ipv6' }, // RFC 4193
  { address: 'fe80::', prefix: 10, family: 'ipv6' }, // RFC 4291
]

const local = new BlockList()
for (const { address, prefix, family } of localRanges) local.addSubnet(address, prefix, family)

/** The extension that holds an authority to names: id-ce-nameConstraints. */
export const nameConstraintsId = '2.5.29.30'

/**
 * The value of the extension that holds the authority to local names and ranges, and to what this machine is called beside them
 * when the authority is made.
 */
export function nameConstraints(names: readonly string[]): Buffer {
  const beside = names.filter((name) => !isLocal(name))
  const trees = [...localTrees, ...beside.filter(isName)].map(treeOf)
  const ranges = [...localRanges, ...beside.flatMap(addressAlone)].map(rangeOf)
  const permitted = [...trees, ...ranges].map((base) => tagged(0x30, base))
  return tagged(0x30, tagged(0xa0, Buffer.concat(permitted)))
}

/** Whether an authority with these constraints may vouch for a name or address of this machine. */
export function caMayName(constraints: Buffer, name: string): boolean {
  if (isLocal(name)) return true
  const alone = addressAlone(name).map(rangeOf)
  const named = isName(name) ? treesAbove(name).map(treeOf) : []
  return [...alone, ...named].some((base) => constraints.includes(base))
}

function isLocal(name: string): boolean {
  const family = isIP(name)
  if (family) return local.check(name, family === 4 ? 'ipv4' : 'ipv6')
  return isName(name) && treesAbove(name).some((tree) => localTrees.includes(tree))
}

/** A name and every domain it stands in: a.b.c, b.c, c. */
function treesAbove(name: string): string[] {
  const labels = name.split('.')
  return labels.map((_, from) => labels.slice(from).join('.'))
}

function addressAlone(name: string): Range[] {
  const family = isIP(name)
  if (family === 4) return [{ address: name, prefix: 32, family: 'ipv4' }]
  return family === 6 ? [{ address: name, prefix: 128, family: 'ipv6' }] : []
}

const treeOf = (name: string) => tagged(0x82, Buffer.from(name))
const rangeOf = ({ address, prefix, family }: Range) =>
  tagged(0x87, Buffer.concat([octetsOf(address, family), maskOf(prefix, family)]))

/** DER: tag, length, content; no length here takes more than two octets. */
function tagged(tag: number, content: Buffer): Buffer {
  const { length } = content
  const head = length < 128 ? [length] : length < 256 ? [0x81, length] : [0x82, length >> 8, length & 0xff]
  return Buffer.concat([Buffer.from([tag, ...head]), content])
}

function octetsOf(address: string, family: Range['family']): Buffer {
  if (family === 'ipv4') return Buffer.from(address.split('.').map(Number))
  const [before = '', after = ''] = address.split('::')
  const groups = (text: string) => (text ? text.split(':').map((group) => Number.parseInt(group, 16)) : [])
  const [first, last] = [groups(before), groups(after)]
  const all = [...first, ...Array<number>(8 - first.length - last.length).fill(0), ...last]
  return Buffer.from(all.flatMap((group) => [group >> 8, group & 0xff]))
}

function maskOf(prefix: number, family: Range['family']): Buffer {
  const octets = family === 'ipv4' ? 4 : 16
  return Buffer.from(
    Array.from(
      { length: octets },
      (_, index) => (0xff00 >> Math.min(8, Math.max(0, prefix - index * 8))) & 0xff,
    ),
  )
}

/** A name as certificates hold it: small letters, digits and hyphens (RFC 1123). */
function isName(name: string): boolean {
  return (
    name.length < 128 &&
    isIP(name) === 0 &&
    /^([a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)*$/.test(name)
  )
}

/** The machine's own name without its domain, as others in the network may call it. */
export function machineName(): string {
  return hostname().toLowerCase().split('.')[0] || 'this-machine'
}

/**
 * Everything this machine is reached by: itself, its name with and without `.local`, and its addresses in the local
 * network. `host` is the one address or name listened on, where there is only one.
 */
export function namesOfMachine(host?: string): string[] {
  const full = hostname().toLowerCase()
  const own = host && !['0.0.0.0', '::'].includes(host) ? host.toLowerCase() : null
  const names = ['localhost', '127.0.0.1', '::1', full, machineName(), `${machineName()}.local`]
  const addresses = own ? [own] : [...lanAddresses(), ...ownIpv6()]
  return [...new Set([...names, ...addresses])]
}

/** Addresses of a private IPv6 network; those of one cable alone cannot be typed into a browser. */
function ownIpv6(): string[] {
  return Object.values(networkInterfaces())
    .flatMap((addresses) => addresses ?? [])
    .filter(({ family, internal, address }) => family === 'IPv6' && !internal && /^f[cd]/i.test(address))
    .map(({ address }) => address)
    .sort()
}
