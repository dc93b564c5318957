import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { madeDemo } from './made-demo'
import { startShop } from './server'

/**
 * Makes the invented shop once a run. Each file of tests gets a copy of its folder: that is made in a moment, and the
 * telling of its stories takes many.
 */
export default async function setup(): Promise<() => Promise<void>> {
  const run = await mkdtemp(join(tmpdir(), 'stand-ledger-browser-'))
  const folder = join(run, 'demo')
  await (await startShop({ demo: true, folder })).close()
  process.env[madeDemo] = folder
  return () => rm(run, { recursive: true, force: true })
}
