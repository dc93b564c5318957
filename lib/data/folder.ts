import { isAbsolute, join, resolve } from 'node:path'
import { projectRoot } from './root'

/** Where things lie in a shop's data folder. Everything of one shop is inside it. */
export type FolderLayout = {
  database: string
  photos: string
  secrets: string
  pepper: string
  /** The shop's own certificate authority and its server's certificate; in no backup. */
  certificates: string
  beforeMigrations: string
  owner: string
  ownerPid: string
}

export function layoutOf(folder: string): FolderLayout {
  const secrets = join(folder, 'secrets')
  return {
    database: join(folder, 'shop.db'),
    photos: join(folder, 'photos'),
    secrets,
    pepper: join(secrets, 'pepper'),
    certificates: join(folder, 'certificates'),
    beforeMigrations: join(folder, 'before-migrations'),
    owner: join(folder, 'owner.lock'),
    ownerPid: join(folder, 'owner.pid'),
  }
}

/** The data folder this process was told to use: STAND_LEDGER_DATA, else `data` in the project's folder. */
export function dataFolder(): string {
  const told = process.env.STAND_LEDGER_DATA
  if (!told) return join(projectRoot(), 'data')
  return isAbsolute(told) ? told : resolve(told)
}
