import { createHash } from 'node:crypto'

/**
 * One text for one value: keys sorted by UTF-16 code units, no spaces, numbers as ECMAScript writes them
 * (RFC 8785, the JSON Canonicalization Scheme). Two machines that mean the same thing hash the same bytes.
 *
 * A Date becomes its ISO instant, a key whose value is undefined is left out. What JSON cannot say (NaN,
 * Infinity, bigint, functions) throws: a hash over a silently dropped value would vouch for nothing.
 */
export function canonicalJson(value: unknown): string {
  if (value === null) return 'null'
  if (value instanceof Date) return JSON.stringify(value.toISOString())
  switch (typeof value) {
    case 'string':
    case 'boolean':
      return JSON.stringify(value)
    case 'number':
      if (!Number.isFinite(value)) throw new TypeError(`${value} has no place in JSON`)
      return JSON.stringify(value)
    case 'object':
      return Array.isArray(value) ? canonicalArray(value) : canonicalObject(value as Record<string, unknown>)
    default:
      throw new TypeError(`A ${typeof value} has no place in JSON`)
  }
}

function canonicalArray(values: readonly unknown[]): string {
  return `[${values.map(canonicalJson).join(',')}]`
}

function canonicalObject(record: Record<string, unknown>): string {
  const members = Object.keys(record)
    .filter((key) => record[key] !== undefined)
    .sort()
    .map((key) => `${JSON.stringify(key)}:${canonicalJson(record[key])}`)
  return `{${members.join(',')}}`
}

/** SHA-256 in lower-case hex. Text is hashed as its UTF-8 bytes. */
export function sha256(bytes: string | Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex')
}

/** SHA-256 of a value's canonical JSON: the one hash for readings, operations and inputs. */
export function bodyHash(value: unknown): string {
  return sha256(canonicalJson(value))
}

/** What a reading's hash covers: all that was said, by whom and when. */
export type HashedReading = {
  id: string
  seq: number
  bikeId: string
  check: string
  position: string | null
  kind: string
  value: string
  unit: string | null
  conditions: string | null
  instrument: string | null
  note: string | null
  personId: string
  deviceId: string | null
  takenAt: Date
  receivedAt: Date
  supersedes: string | null
  engineSpeed?: number | null
}

/**
 * The hash to store with a reading. SQLite notices few flipped bits in a row's values; this one does. Extra
 * fields of a database row (its own `hash`) do not enter.
 */
export function readingHash(reading: HashedReading): string {
  const { id, seq, bikeId, check, position, kind, value, unit, conditions, instrument, note } = reading
  const { personId, deviceId, takenAt, receivedAt, supersedes } = reading
  // Left out where there is none, so that readings from before it was noted keep their hash.
  const engineSpeed = reading.engineSpeed ?? undefined
  const said = { id, seq, bikeId, check, position, kind, value, unit, conditions, instrument, note }
  return bodyHash({ ...said, engineSpeed, personId, deviceId, takenAt, receivedAt, supersedes })
}
