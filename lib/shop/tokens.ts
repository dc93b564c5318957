import { createHash, randomBytes } from 'node:crypto'

/** 256 random bits, as text for a cookie. Only its hash is stored. */
export function newToken(): string {
  return randomBytes(32).toString('base64url')
}

export function tokenHash(token: string): string {
  return createHash('sha256').update(token).digest('hex')
}

// Crockford's base 32: no I, L, O, U, so that a code read aloud is typed right.
const alphabet = '0123456789ABCDEFGHJKMNPQRSTVWXYZ'

/** A one-time code in three groups of four: 60 random bits. */
export function newCode(): string {
  const letters = [...randomBytes(12)].map((byte) => alphabet[byte % 32]).join('')
  return `${letters.slice(0, 4)}-${letters.slice(4, 8)}-${letters.slice(8)}`
}

/** A code as typed, to the form that is hashed: case, spaces, hyphens and look-alike letters do not matter. */
export function codeAsMeant(typed: string): string {
  return typed
    .toUpperCase()
    .replace(/[^0-9A-Z]/g, '')
    .replace(/O/g, '0')
    .replace(/[IL]/g, '1')
}
