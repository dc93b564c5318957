import 'reflect-metadata'
import { X509Certificate as ReadCertificate } from 'node:crypto'
import * as x509 from '@peculiar/x509'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openCertificates } from '../../lib/desk/certificates'
import { removeFolder, scratchFolder } from '../support/shop-folder'

/*
 * The shop's certificates against what is asked of them outside:
 * RFC 5280, Internet X.509 Public Key Infrastructure Certificate and CRL Profile, sections named at each check;
 * Apple, "Requirements for trusted certificates in iOS 13 and macOS 10.15" (support.apple.com/103769);
 * CA/Browser Forum, Baseline Requirements 6.3.2 (398 days), from memory.
 */

const folder = scratchFolder()
const names = ['localhost', '127.0.0.1', '::1', 'bench-pc', 'bench-pc.local', '192.168.1.20']
let authority: x509.X509Certificate
let server: x509.X509Certificate
beforeAll(async () => {
  const made = await openCertificates({
    folder,
    names,
    machine: 'bench-pc',
    now: new Date('2026-11-25T12:00:00Z'),
  })
  authority = new x509.X509Certificate(new Uint8Array(made.authority.der))
  server = new x509.X509Certificate(new Uint8Array(new ReadCertificate(made.server.cert).raw))
})
afterAll(() => removeFolder(folder))

const extension = <T extends x509.Extension>(of: x509.X509Certificate, id: string) =>
  of.getExtension(id) as T | null
const days = ({ notBefore, notAfter }: x509.X509Certificate) =>
  (notAfter.getTime() - notBefore.getTime() + 1000) / 86_400_000

const oid = {
  subjectKey: '2.5.29.14',
  keyUsage: '2.5.29.15',
  alternativeNames: '2.5.29.17',
  basicConstraints: '2.5.29.19',
  nameConstraints: '2.5.29.30',
  authorityKey: '2.5.29.35',
  extendedKeyUsage: '2.5.29.37',
}

describe('both certificates', () => {
  it('are of version 3, as extensions need (RFC 5280, 4.1.2.1)', () => {
    // The version stands as [0] INTEGER 2 at the head of what is signed.
    const head = Buffer.from([0xa0, 0x03, 0x02, 0x01, 0x02])
    for (const one of [authority, server])
      expect(Buffer.from(one.rawData).subarray(0, 16).includes(head)).toBe(true)
  })

  it('have positive serial numbers of at most 20 octets that differ (RFC 5280, 4.1.2.2)', () => {
    const serials = [authority, server].map(({ serialNumber }) => BigInt(`0x${serialNumber}`))
    for (const serial of serials) {
      expect(serial > 0n).toBe(true)
      expect(serial < 2n ** 159n).toBe(true)
      // CA/Browser Forum, 7.1: at least 64 bits that nobody can foretell.
      expect(serial > 2n ** 64n).toBe(true)
    }
    expect(serials[0]).not.toBe(serials[1])
  })

  it('are signed with SHA-2 over P-256 (Apple; RFC 5480)', () => {
    for (const one of [authority, server]) {
      expect(one.signatureAlgorithm).toMatchObject({ name: 'ECDSA', hash: { name: 'SHA-256' } })
      expect(one.publicKey.algorithm).toMatchObject({ name: 'ECDSA', namedCurve: 'P-256' })
    }
  })

  it('have a common name of at most 64 characters (RFC 5280, appendix A.1, ub-common-name)', () => {
    for (const one of [authority, server]) {
      const [name = ''] = one.subjectName.getField('CN')
      expect(name.length).toBeGreaterThan(0)
      expect(name.length).toBeLessThanOrEqual(64)
    }
  })
})

describe('the authority', () => {
  it('is issued by itself and says that it may sign certificates, of servers only (4.2.1.9)', () => {
    expect(authority.issuer).toBe(authority.subject)
    const constraints = extension<x509.BasicConstraintsExtension>(authority, oid.basicConstraints)
    expect(constraints).toMatchObject({ critical: true, ca: true, pathLength: 0 })
  })

  it('may sign certificates and nothing else of what is said (4.2.1.3)', () => {
    const usage = extension<x509.KeyUsagesExtension>(authority, oid.keyUsage)
    expect(usage).toMatchObject({
      critical: true,
      usages: x509.KeyUsageFlags.keyCertSign | x509.KeyUsageFlags.cRLSign,
    })
  })

  it('names its key (4.2.1.2) and is held to local names by an extension that must be understood (4.2.1.10)', () => {
    expect(extension(authority, oid.subjectKey)).toMatchObject({ critical: false })
    expect(extension(authority, oid.nameConstraints)).toMatchObject({ critical: true })
  })

  it('holds for ten years', () => {
    expect(days(authority)).toBe(3650)
  })
})

describe('the certificate of the server', () => {
  it('is issued by the authority, whose key it names (4.2.1.1)', async () => {
    expect(server.issuer).toBe(authority.subject)
    const key = extension<x509.AuthorityKeyIdentifierExtension>(server, oid.authorityKey)
    const own = extension<x509.SubjectKeyIdentifierExtension>(authority, oid.subjectKey)
    expect(key?.critical).toBe(false)
    expect(key?.keyId).toBe(own?.keyId)
    expect(await server.verify({ publicKey: authority.publicKey, signatureOnly: true })).toBe(true)
  })

  it('signs nothing but the handshake of a server (4.2.1.3, 4.2.1.9, 4.2.1.12; Apple)', () => {
    expect(extension(server, oid.basicConstraints)).toMatchObject({ ca: false })
    expect(extension(server, oid.keyUsage)).toMatchObject({
      critical: true,
      usages: x509.KeyUsageFlags.digitalSignature,
    })
    expect(extension<x509.ExtendedKeyUsageExtension>(server, oid.extendedKeyUsage)?.usages).toEqual([
      '1.3.6.1.5.5.7.3.1',
    ])
  })

  it('has every name and address in its alternative names, addresses as octets (4.2.1.6; Apple)', () => {
    const held = extension<x509.SubjectAlternativeNameExtension>(server, oid.alternativeNames)
    const kinds = held?.names.items.map(({ type, value }) => [type, value])
    expect(kinds?.filter(([type]) => type === 'dns').map(([, value]) => value)).toEqual([
      'localhost',
      'bench-pc',
      'bench-pc.local',
    ])
    // iPAddress is [7] OCTET STRING, four octets for version 4.
    const octets = Buffer.from([0x87, 0x04, 192, 168, 1, 20])
    expect(Buffer.from(new Uint8Array(held?.rawData ?? [])).includes(octets)).toBe(true)
    expect(kinds).toHaveLength(names.length)
  })

  it('holds for less than the 825 days of Apple, and for less than the 398 of public authorities', () => {
    expect(days(server)).toBe(397)
    expect(server.notAfter < authority.notAfter).toBe(true)
    expect(server.notBefore >= authority.notBefore).toBe(true)
  })
})
