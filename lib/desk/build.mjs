import { createHash } from 'node:crypto'
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs'
import { join, relative, sep } from 'node:path'
import process from 'node:process'
import { run, step, Trouble } from './step.mjs'

/** What the built pages are made of. Commands of the terminal and papers are not among it. */
const SOURCES = [
  'app',
  'lib',
  'prisma',
  'next.config.ts',
  'postcss.config.mjs',
  'tsconfig.json',
  'package-lock.json',
]
const NOT_BUILT = [join('lib', 'desk'), join('lib', 'data', 'generated')]

/** Builds kept: the one in use and the one before it. */
const KEPT = 2

/**
 * The folder of the build that belongs to the sources as they are now, relative to the project; built first
 * where there is none. A new build goes into its own folder and becomes current only when it is whole, so a
 * build that fails leaves the one before it untouched.
 *
 * @param {string} root
 * @param {NodeJS.WriteStream} out
 * @returns {Promise<string>}
 */
export async function ensureBuilt(root, out = process.stdout) {
  const name = nameOfBuild(root)
  if (!isWhole(root, name)) await step('Building the pages', (tell) => build(root, name, tell), out)
  writeCurrent(root, name)
  dropOldBuilds(root, name)
  return join('.build', name)
}

/**
 * The build that was last made current, relative to the project, or null.
 *
 * @param {string} root
 */
export function currentBuild(root) {
  const file = join(root, '.build', 'current')
  if (!existsSync(file)) return null
  const name = readFileSync(file, 'utf8').trim()
  return isWhole(root, name) ? join('.build', name) : null
}

/**
 * A short name that changes when anything the pages are built from changes.
 *
 * @param {string} root
 */
export function nameOfBuild(root) {
  const hash = createHash('sha256')
  for (const file of SOURCES.flatMap((source) => filesUnder(join(root, source)))) {
    const path = relative(root, file)
    if (path.endsWith('.md') || NOT_BUILT.some((folder) => path.startsWith(folder + sep))) continue
    const content = readFileSync(file)
    hash.update(`${path.split(sep).join('/')}\0${content.length}\0`).update(content)
  }
  return hash.digest('hex').slice(0, 16)
}

/** @param {string} path @returns {string[]} */
function filesUnder(path) {
  if (!existsSync(path)) return []
  if (statSync(path).isFile()) return [path]
  return readdirSync(path)
    .sort()
    .flatMap((entry) => filesUnder(join(path, entry)))
}

/** @param {string} root @param {string} name */
function isWhole(root, name) {
  return /^[0-9a-f]{16}$/.test(name) && existsSync(join(root, '.build', name, 'whole'))
}

/** @param {string} root @param {string} name @param {(howFar: string) => void} tell */
async function build(root, name, tell) {
  const folder = join(root, '.build', name)
  rmSync(folder, { recursive: true, force: true })
  mkdirSync(folder, { recursive: true })
  // The builder adds the folder it builds into to the TypeScript settings it is given: this file takes that.
  writeFileSync(join(root, '.build', 'tsconfig.json'), '{ "extends": "../tsconfig.json" }\n')
  const { code, output } = await run(process.execPath, ['node_modules/next/dist/bin/next', 'build'], {
    cwd: root,
    env: { NEXT_TELEMETRY_DISABLED: '1', NODE_ENV: 'production', STAND_LEDGER_BUILD: join('.build', name) },
    onLine: (line) => tell(line.replace(/^[^\p{L}\p{N}]+/u, '')),
  })
  if (code !== 0) {
    rmSync(folder, { recursive: true, force: true })
    throw new Trouble(`${output.trim()}\n\nThe pages could not be built; what went wrong stands above.`)
  }
  writeFileSync(join(folder, 'whole'), `${new Date().toISOString()}\n`)
}

/** @param {string} root @param {string} name */
function writeCurrent(root, name) {
  const file = join(root, '.build', 'current')
  if (existsSync(file) && readFileSync(file, 'utf8').trim() === name) return
  writeFileSync(`${file}.new`, `${name}\n`)
  renameSync(`${file}.new`, file)
}

/** @param {string} root @param {string} current */
function dropOldBuilds(root, current) {
  const folder = join(root, '.build')
  const others = readdirSync(folder)
    .filter((name) => name !== current && isWhole(root, name))
    .sort((a, b) => builtAt(root, b) - builtAt(root, a))
  for (const name of others.slice(KEPT - 1)) rmSync(join(folder, name), { recursive: true, force: true })
}

/** @param {string} root @param {string} name */
function builtAt(root, name) {
  return statSync(join(root, '.build', name, 'whole')).mtimeMs
}
