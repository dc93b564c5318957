import 'reflect-metadata'
import {
  createPrivateKey,
  KeyObject,
  X509Certificate as ReadCertificate,
  randomBytes,
  webcrypto,
} from 'node:crypto'
import { chmodSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import * as x509 from '@peculiar/x509'
import { layoutOf } from '../data/folder'
import { caMayName, nameConstraints, nameConstraintsId } from './certificate-names'

/*
 * The shop's own certificate authority and the certificate of its server, in the folder `certificates/` of the shop's
 * data. Each file holds a key and its certificate together, so that after a power cut they still belong together.
 */

/** What a device has to trust once. */
export type Authority = {
  /** The certificate as DER, which every kind of device takes. */
  der: Buffer
  pem: string
  name: string
  /** SHA-256 of the DER, as devices show it. */
  fingerprint: string
  notAfter: Date
}

export type Certificates = {
  authority: Authority
  server: { key: string; cert: string; notAfter: Date }
  /** Names and addresses of this machine that the authority may not vouch for. */
  leftOut: readonly string[]
  made: { authority: boolean; server: boolean }
}

/** Something a person can put right; the message says how. */
export class CertificateProblem extends Error {
  override name = 'CertificateProblem'
}

const day = 86_400_000
/** Ten years: a device is told once, and a shop keeps its tablets for longer than a certificate of a public site. */
const authorityDays = 3650
/**
 * 398 days are the most that browsers take from public authorities (CA/Browser Forum, Baseline Requirements 6.3.2,
 * until 2026), and Apple's devices take 825 from private ones; the first and last second both count (RFC 5280, 4.1.2.5).
 */
const serverDays = 397
/** A new certificate holds from the day before, for devices whose clock is slow. */
const slowClockDays = 1
const renewDays = 30

const algorithm = { name: 'ECDSA', namedCurve: 'P-256', hash: 'SHA-256' } as const
const provider = webcrypto as unknown as Crypto

type Kept = { key: KeyObject; certificate: ReadCertificate; pem: string }
export type Wanted = {
  /** The shop's data folder. */
  folder: string
  /** The names and addresses under which devices reach this machine. */
  names: readonly string[]
  /** The machine's own name, for people to know the authority by. */
  machine: string
  now: Date
}

/**
 * What is kept, renewed where it has to be: the server's certificate when names or addresses changed or it has less
 * than 30 days left, the authority only at the end of its ten years.
 *
 * @throws CertificateProblem
 */
export async function openCertificates(wanted: Wanted): Promise<Certificates> {
  const { folder, names, now } = wanted
  const at = layoutOf(folder).certificates
  const files = { authority: join(at, 'authority.pem'), server: join(at, 'server.pem') }
  const kept = readAuthority(files.authority)
  if (kept) requireBegun(kept.certificate, now)
  const authority = kept && daysLeft(kept.certificate, now) >= renewDays ? kept : null
  const trusted = authority ?? (await makeAuthority(wanted, files.authority))

  const constraints = constraintsOf(trusted.certificate)
  const named = names.filter((name) => caMayName(constraints, name))
  const before = readServer(files.server)
  const serves = before && stillServes(before, { trusted, named, now })
  const server = serves ? before : await makeServer({ trusted, named, now }, files.server)
  return {
    authority: {
      der: trusted.certificate.raw,
      pem: trusted.certificate.toString(),
      name: nameOf(trusted.certificate),
      fingerprint: trusted.certificate.fingerprint256,
      notAfter: new Date(trusted.certificate.validTo),
    },
    server: {
      key: pemOfKey(server.key),
      cert: server.certificate.toString(),
      notAfter: new Date(server.certificate.validTo),
    },
    leftOut: names.filter((name) => !named.includes(name)),
    made: { authority: !authority, server: !serves },
  }
}

function requireBegun(certificate: ReadCertificate, now: Date): void {
  const begins = new Date(certificate.validFrom)
  if (now >= begins) return
  throw new CertificateProblem(
    `The clock of this machine says ${now.toISOString().slice(0, 10)}, but the shop's certificates were made on ` +
      `${new Date(begins.getTime() + slowClockDays * day).toISOString().slice(0, 10)}. Set the clock right, then start again.`,
  )
}

function daysLeft(certificate: ReadCertificate, now: Date): number {
  return (new Date(certificate.validTo).getTime() - now.getTime()) / day
}

function stillServes(
  server: Kept,
  { trusted, named, now }: { trusted: Kept; named: readonly string[]; now: Date },
): boolean {
  const { certificate } = server
  return (
    new Date(certificate.validFrom) <= now &&
    daysLeft(certificate, now) >= renewDays &&
    certificate.checkIssued(trusted.certificate) &&
    certificate.verify(trusted.certificate.publicKey) &&
    sameNames(certificate, named)
  )
}

function sameNames(certificate: ReadCertificate, named: readonly string[]): boolean {
  const vouched = new x509.X509Certificate(certificate.raw).getExtension(x509.SubjectAlternativeNameExtension)
  const written = vouched ? Buffer.from(vouched.rawData) : null
  return written?.equals(Buffer.from(alternativeNames(named).rawData)) ?? false
}

async function makeAuthority({ machine, names, now }: Wanted, file: string): Promise<Kept> {
  const keys = await provider.subtle.generateKey(algorithm, true, ['sign', 'verify'])
  const made = await x509.X509CertificateGenerator.createSelfSigned(
    {
      serialNumber: newSerial(),
      name: [{ CN: [`Stand & Ledger on ${machine.slice(0, 24)}, ${now.toISOString().slice(0, 10)}`] }],
      ...lastingFrom(now, authorityDays),
      signingAlgorithm: algorithm,
      keys,
      extensions: [
        new x509.BasicConstraintsExtension(true, 0, true),
        new x509.KeyUsagesExtension(x509.KeyUsageFlags.keyCertSign | x509.KeyUsageFlags.cRLSign, true),
        new x509.Extension(nameConstraintsId, true, new Uint8Array(nameConstraints(names))),
        await x509.SubjectKeyIdentifierExtension.create(keys.publicKey, false, provider),
      ],
    },
    provider,
  )
  return keep(file, { key: keys.privateKey, certificate: made })
}

async function makeServer(
  { trusted, named, now }: { trusted: Kept; named: readonly string[]; now: Date },
  file: string,
): Promise<Kept> {
  const keys = await provider.subtle.generateKey(algorithm, true, ['sign', 'verify'])
  const issuer = new x509.X509Certificate(trusted.certificate.raw)
  const wished = lastingFrom(now, serverDays)
  const end = new Date(trusted.certificate.validTo)
  const made = await x509.X509CertificateGenerator.create(
    {
      serialNumber: newSerial(),
      subject: [{ CN: ['Stand & Ledger, server of this shop'] }],
      issuer: issuer.subjectName,
      notBefore: wished.notBefore,
      notAfter: wished.notAfter < end ? wished.notAfter : end,
      signingAlgorithm: algorithm,
      publicKey: keys.publicKey,
      signingKey: await signingKeyOf(trusted.key),
      extensions: [
        new x509.BasicConstraintsExtension(false, undefined, true),
        new x509.KeyUsagesExtension(x509.KeyUsageFlags.digitalSignature, true),
        new x509.ExtendedKeyUsageExtension([x509.ExtendedKeyUsage.serverAuth]),
        alternativeNames(named),
        await x509.SubjectKeyIdentifierExtension.create(keys.publicKey, false, provider),
        await x509.AuthorityKeyIdentifierExtension.create(issuer, false, provider),
      ],
    },
    provider,
  )
  return keep(file, { key: keys.privateKey, certificate: made })
}

function alternativeNames(named: readonly string[]): x509.SubjectAlternativeNameExtension {
  return new x509.SubjectAlternativeNameExtension(
    named.map((value) => ({ type: isAddress(value) ? ('ip' as const) : ('dns' as const), value })),
  )
}

const isAddress = (name: string) => name.includes(':') || /^[\d.]+$/.test(name)

/** From the day before on; both ends count, so the last second is taken off. */
function lastingFrom(now: Date, days: number): { notBefore: Date; notAfter: Date } {
  const notBefore = new Date(Math.floor(now.getTime() / 1000) * 1000 - slowClockDays * day)
  return { notBefore, notAfter: new Date(notBefore.getTime() + days * day - 1000) }
}

/** A positive number of 127 random bits (RFC 5280, 4.1.2.2: at most 20 octets, never zero). */
function newSerial(): string {
  const bytes = randomBytes(16)
  bytes[0] = (bytes[0]! & 0x3f) | 0x40
  return bytes.toString('hex')
}

function constraintsOf(certificate: ReadCertificate): Buffer {
  const found = new x509.X509Certificate(certificate.raw).getExtension(nameConstraintsId)
  return found ? Buffer.from(found.value) : Buffer.alloc(0)
}

function nameOf(certificate: ReadCertificate): string {
  return new x509.X509Certificate(certificate.raw).subjectName.getField('CN')[0] ?? ''
}

function signingKeyOf(key: KeyObject): Promise<CryptoKey> {
  const der = key.export({ type: 'pkcs8', format: 'der' })
  return provider.subtle.importKey('pkcs8', new Uint8Array(der), algorithm, false, ['sign'])
}

function pemOfKey(key: KeyObject): string {
  return key.export({ type: 'pkcs8', format: 'pem' }).toString()
}

function keep(file: string, made: { key: CryptoKey; certificate: x509.X509Certificate }): Kept {
  const key = KeyObject.from(made.key as unknown as webcrypto.CryptoKey)
  const certificate = new ReadCertificate(Buffer.from(made.certificate.rawData))
  const pem = `${pemOfKey(key)}${certificate.toString()}`
  writeKept(file, pem)
  return { key, certificate, pem }
}

/** Under another name first, readable by the account that runs the shop alone. */
function writeKept(file: string, pem: string): void {
  const folder = join(file, '..')
  const unfinished = `${file}.part`
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 })
    chmodSync(folder, 0o700)
    rmSync(unfinished, { force: true })
    writeFileSync(unfinished, pem, { mode: 0o600, flag: 'wx', flush: true })
    renameSync(unfinished, file)
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code
    if (!code) throw error
    throw new CertificateProblem(
      `The shop's certificates cannot be written to ${folder} (${code}). ` +
        'Let the account that runs the shop write there, see that the disk has room, then start again.',
    )
  }
}

/** Null where there is none yet. One that cannot be read is never written over: devices trust it. */
function readAuthority(file: string): Kept | null {
  const pem = textOrNull(file)
  if (pem === null) return null
  const kept = parsed(pem)
  if (kept?.certificate.ca) return tightened(file, kept)
  throw new CertificateProblem(
    `${file} holds no whole key and certificate any more. Put the right file back. ` +
      'If there is none, take this file away: a new authority is made, and each device has to trust it anew.',
  )
}

/** One that cannot be read is made anew: no device has to know. */
function readServer(file: string): Kept | null {
  const pem = textOrNull(file)
  const kept = pem === null ? null : parsed(pem)
  return kept && tightened(file, kept)
}

function tightened(file: string, kept: Kept): Kept {
  chmodSync(file, 0o600)
  return kept
}

function parsed(pem: string): Kept | null {
  try {
    const key = createPrivateKey(pem)
    const certificate = new ReadCertificate(pem.slice(pem.indexOf('-----BEGIN CERTIFICATE-----')))
    return certificate.checkPrivateKey(key) ? { key, certificate, pem } : null
  } catch {
    return null
  }
}

function textOrNull(file: string): string | null {
  try {
    return readFileSync(file, 'utf8')
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code
    if (code === 'ENOENT') return null
    throw new CertificateProblem(
      `${file} cannot be read (${code}). Let the account that runs the shop read it.`,
    )
  }
}
