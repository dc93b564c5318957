import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import process from 'node:process'
import { run, step, Trouble } from './step.mjs'

/**
 * Installs the packages of package-lock.json where they are missing or others than it says. Uses Node's own
 * modules only, so that it works on a fresh clone.
 *
 * @param {string} root the project's folder
 * @param {NodeJS.WriteStream} out where to speak: standard error for a command whose output is read by others
 * @returns {Promise<boolean>} whether anything was installed
 */
export async function ensureInstalled(root, out = process.stdout) {
  if (isInstalled(root)) return false
  await step('Installing the packages', (tell) => install(root, tell), out)
  return true
}

/** @param {string} root @param {(howFar: string) => void} tell */
async function install(root, tell) {
  const wanted = wantedPackages(root).map(([path]) => join(root, path, 'package.json'))
  const count = () => wanted.filter((file) => existsSync(file)).length
  const watch = setInterval(() => {
    const there = count()
    tell(there < wanted.length ? `${there} of ${wanted.length}` : 'building the parts for this machine')
  }, 1000)
  try {
    const { command, args } = npm()
    // `--include=dev`: the pages are built here, also where NODE_ENV says production.
    // `--loglevel=error`: under `npm run -s` npm would else be silent about what went wrong, too.
    const { code, output } = await run(command, [...args, 'ci', '--include=dev', '--loglevel=error'], {
      cwd: root,
    })
    if (code !== 0) {
      throw new Trouble(
        `${output.trim()}\n\nThe packages could not be installed; what went wrong stands above. ` +
          'Often it is the network: try again when it is there.',
      )
    }
  } finally {
    clearInterval(watch)
  }
  writeFileSync(builtForFile(root), process.versions.modules)
}

/**
 * npm keeps a list of what it really installed, and writes it last: so an install that was broken off does not
 * count. Compiled parts belong to one Node's binary interface.
 *
 * @param {string} root
 */
function isInstalled(root) {
  const listed = join(root, 'node_modules', '.package-lock.json')
  if (!existsSync(listed)) return false
  const builtFor = builtForFile(root)
  if (existsSync(builtFor) && readFileSync(builtFor, 'utf8') !== process.versions.modules) return false
  const there = readJson(listed).packages
  return wantedPackages(root).every(([path, { version, integrity }]) => {
    const here = there[path]
    return here?.version === version && here.integrity === integrity
  })
}

/**
 * Packages that this machine needs: those marked optional are for other machines, or done without.
 *
 * @param {string} root
 * @returns {[string, { version: string, integrity?: string }][]}
 */
function wantedPackages(root) {
  const { packages } = readJson(join(root, 'package-lock.json'))
  return Object.entries(packages).filter(([path, entry]) => path !== '' && !entry.optional && !entry.link)
}

/** The npm that started this process, else the one on the path. */
function npm() {
  const started = process.env.npm_execpath
  if (started && /npm-cli\.[cm]?js$/.test(started)) return { command: process.execPath, args: [started] }
  return { command: process.platform === 'win32' ? 'npm.cmd' : 'npm', args: [] }
}

/** @param {string} root */
function builtForFile(root) {
  return join(root, 'node_modules', '.built-for-node')
}

/** @param {string} file */
function readJson(file) {
  return JSON.parse(readFileSync(file, 'utf8'))
}
