import process from 'node:process'
import { ensureGenerated } from './generate.mjs'
import { ensureInstalled } from './install.mjs'
import { requireNode } from './node-version.mjs'

/**
 * What every command needs before anything of TypeScript can run: a Node that will do, the packages, and the
 * database client.
 *
 * @param {string} root the project's folder
 * @param {NodeJS.WriteStream} out
 */
export async function prepare(root, out = process.stdout) {
  requireNode()
  await ensureInstalled(root, out)
  ensureGenerated({ log: (line) => out.write(`  ${line}\n`) })
}
