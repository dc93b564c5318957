// Makes the database client in lib/data/generated where it is missing or older than the schema.
// Node's own modules only: the start command runs this before anything else is built.

import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..')
const generated = join(root, 'lib', 'data', 'generated')
const stampFile = join(generated, 'made-from.txt')

/**
 * Returns true when it generated, false when what is there was made from this schema already.
 * @param {{ log?: (line: string) => void }} [options]
 */
export function ensureGenerated({ log = () => {} } = {}) {
  const stamp = stampNow()
  if (existsSync(join(generated, 'client.ts')) && readOr(stampFile, '') === stamp) return false
  log('Making the database client from prisma/schema.prisma ...')
  const made = spawnSync(process.execPath, [join(root, 'node_modules/prisma/build/index.js'), 'generate'], {
    cwd: root,
    encoding: 'utf8',
    // Prisma wants to see a native engine that it would otherwise download, and never calls it here: any
    // executable that exists will do. The other two keep it from asking the network for news.
    env: {
      ...process.env,
      PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
      PRISMA_HIDE_UPDATE_MESSAGE: '1',
      CHECKPOINT_DISABLE: '1',
    },
  })
  if (made.status !== 0) {
    throw new Error(
      `The database client could not be made:\n${made.stdout ?? ''}${made.stderr ?? made.error}`,
    )
  }
  writeFileSync(stampFile, stamp)
  return true
}

function stampNow() {
  const hash = createHash('sha256')
  hash.update(readFileSync(join(root, 'prisma', 'schema.prisma')))
  hash.update(JSON.parse(readFileSync(join(root, 'node_modules/prisma/package.json'), 'utf8')).version)
  return hash.digest('hex')
}

function readOr(file, otherwise) {
  return existsSync(file) ? readFileSync(file, 'utf8') : otherwise
}

if (process.argv[1] && fileURLToPath(import.meta.url) === process.argv[1]) {
  if (!ensureGenerated({ log: console.log })) console.log('The database client is up to date.')
}
