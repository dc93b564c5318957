import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { ensureGenerated } from '../../lib/desk/generate.mjs'

/**
 * Before any test: the database client must exist, or no file that imports the store can be loaded; and there is a
 * folder for what the workers of this run make once and share.
 */
export default function setup(): () => void {
  ensureGenerated({ log: console.log })
  const shared = mkdtempSync(join(tmpdir(), 'stand-ledger-run-'))
  process.env.STAND_LEDGER_TEST_RUN = shared
  return () => rmSync(shared, { recursive: true, force: true })
}
