import { randomBytes } from 'node:crypto'
import { chmodSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import type { FolderLayout } from './folder'
import { sha256 } from './hash'
import type { Db } from './store'

/**
 * The secret that goes into every PIN's hash. Six digits alone would be guessed from a stolen database in
 * hours; with 256 random bits that are neither in the database nor in its backups they cannot.
 */
export type Pepper = {
  bytes: Buffer
  /** True when the database knows people but their pepper was gone and a new one had to be made. */
  missing: boolean
  /** Ids of people whose PIN was made with the lost pepper and was not set since. */
  pinsToSetAgain(): Promise<string[]>
}

const pepperBytes = 32

/** Reads the shop's pepper; makes one where there is none and remembers whose PINs that leaves useless. */
export async function openPepper(layout: FolderLayout, db: Db): Promise<Pepper> {
  const kept = readPepper(layout.pepper)
  const bytes = kept ?? randomBytes(pepperBytes)
  if (!kept) {
    const people = await db.person.findMany({ select: { id: true, pinHash: true } })
    if (people.length > 0) writeLost(layout, people)
    writeSecret(layout.pepper, bytes)
  }
  const pinsToSetAgain = () => stillLost(layout, db)
  return { bytes, missing: (await pinsToSetAgain()).length > 0, pinsToSetAgain }
}

export function readPepper(file: string): Buffer | null {
  const bytes = readOrNull(file)
  if (bytes && bytes.length !== pepperBytes) {
    throw new Error(
      `${file} should hold ${pepperBytes} bytes and holds ${bytes.length}. Put the right file back.`,
    )
  }
  return bytes
}

/** Written once; only the account that runs the shop may read it. */
export function writeSecret(file: string, bytes: Uint8Array | string): void {
  mkdirSync(dirname(file), { recursive: true, mode: 0o700 })
  chmodSync(dirname(file), 0o700)
  writeFileSync(file, bytes, { mode: 0o600, flush: true })
}

/** Says which pepper without giving it away: nobody finds 32 random bytes from their hash. */
export function pepperMark(bytes: Uint8Array): string {
  return sha256(Buffer.concat([Buffer.from('stand-ledger pepper\n'), bytes]))
}

// The lost ones are remembered beside the pepper, by the hash of the PIN hash that became useless: a PIN set
// since then has another one, so the list empties by itself and survives any number of restarts until then.

type LostPin = { personId: string; pinHash: string }

function writeLost(layout: FolderLayout, people: { id: string; pinHash: string }[]): void {
  const lost: LostPin[] = people.map(({ id, pinHash }) => ({ personId: id, pinHash: sha256(pinHash) }))
  writeSecret(lostFile(layout), JSON.stringify(lost))
}

async function stillLost(layout: FolderLayout, db: Db): Promise<string[]> {
  const text = readOrNull(lostFile(layout))
  if (!text) return []
  const lost: LostPin[] = JSON.parse(text.toString('utf8'))
  const people = await db.person.findMany({ where: { leftAt: null }, select: { id: true, pinHash: true } })
  const now = new Map(people.map(({ id, pinHash }) => [id, sha256(pinHash)]))
  return lost.filter(({ personId, pinHash }) => now.get(personId) === pinHash).map(({ personId }) => personId)
}

function lostFile(layout: FolderLayout): string {
  return `${layout.pepper}-lost.json`
}

function readOrNull(file: string): Buffer | null {
  try {
    return readFileSync(file)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null
    throw error
  }
}
