import { readFileSync, rmSync, writeFileSync } from 'node:fs'
import Database from 'better-sqlite3'
import type { FolderLayout } from './folder'

/** Thrown when another process has this shop open. */
export class ShopInUse extends Error {
  override name = 'ShopInUse'
  constructor(folder: string, pid: string) {
    super(
      `The shop in ${folder} is already open${pid ? ` (process ${pid})` : ''}. ` +
        'Stop that one first, or set STAND_LEDGER_DATA to another folder.',
    )
  }
}

/**
 * One process owns a shop's folder: its lock keeps requests apart only inside the process that holds it.
 *
 * The lock is SQLite's own on an empty file beside the database, because the operating system takes it back
 * when a process dies in whatever way; a number in a file would outlive a crash and might by then belong to
 * somebody else. The number is only written down for the message. Backups do not ask for this lock.
 */
export function ownFolder(layout: FolderLayout): { release(): void } {
  const lock = new Database(layout.owner, { timeout: 0 })
  try {
    lock.pragma('journal_mode = MEMORY')
    lock.exec('BEGIN EXCLUSIVE')
  } catch (error) {
    lock.close()
    if ((error as { code?: string }).code?.startsWith('SQLITE_BUSY')) {
      throw new ShopInUse(layout.owner.replace(/[/\\][^/\\]*$/, ''), pidOfOwner(layout))
    }
    throw error
  }
  writeFileSync(layout.ownerPid, `${process.pid}\n`)
  return {
    release() {
      if (!lock.open) return
      rmSync(layout.ownerPid, { force: true })
      lock.close()
    },
  }
}

function pidOfOwner(layout: FolderLayout): string {
  try {
    return readFileSync(layout.ownerPid, 'utf8').trim()
  } catch {
    return ''
  }
}
