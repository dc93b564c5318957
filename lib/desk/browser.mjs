import { existsSync } from 'node:fs'
import process from 'node:process'
import { run, step, Trouble } from './step.mjs'

const SYSTEM_BROWSER = '/usr/bin/chromium'

/**
 * The system's Chromium, or undefined to use the one that Playwright keeps for itself.
 *
 * @returns {string | undefined}
 */
export function systemBrowser() {
  return existsSync(SYSTEM_BROWSER) ? SYSTEM_BROWSER : undefined
}

/** Switches that keep a browser under test quiet; a browser run by root has no sandbox to offer. */
export const browserSwitches = [
  '--disable-quic',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
  ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
]

/**
 * Gets a browser for the tests where there is none: from the system's packages where this may be done, else
 * from Playwright.
 *
 * @param {string} root the project's folder
 * @param {NodeJS.WriteStream} out
 */
export async function ensureBrowser(root, out = process.stdout) {
  if (systemBrowser() || (await hasOwnBrowser())) return
  if (existsSync('/usr/bin/apt-get') && process.getuid?.() === 0) {
    await step('Installing the browser with apt', (tell) => installWithApt(root, tell), out)
    if (systemBrowser()) return
  }
  await step('Fetching a browser for the tests', (tell) => fetchOwn(root, tell), out)
  if (await hasOwnBrowser()) return
  throw new Trouble(
    `The browser tests need Chromium. Install it so that it is ${SYSTEM_BROWSER} (on Debian: ` +
      'sudo apt-get install chromium), or run: npx playwright install chromium',
  )
}

async function hasOwnBrowser() {
  const { chromium } = await import('@playwright/test')
  return existsSync(chromium.executablePath())
}

/** @param {string} root @param {(howFar: string) => void} tell */
async function installWithApt(root, tell) {
  const how = { cwd: root, env: { DEBIAN_FRONTEND: 'noninteractive' }, onLine: tell }
  await run('apt-get', ['update'], how)
  await run('apt-get', ['install', '-y', '--no-install-recommends', 'chromium', 'fonts-liberation'], how)
}

/** @param {string} root @param {(howFar: string) => void} tell */
async function fetchOwn(root, tell) {
  await run(process.execPath, ['node_modules/@playwright/test/cli.js', 'install', 'chromium'], {
    cwd: root,
    onLine: tell,
  })
}
