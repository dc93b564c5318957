// `npm test`: everything from a fresh clone to the last line "N passed, N failed".
// `npm test -- core` runs the test files whose path holds "core", without a browser.
import { spawn } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import process from 'node:process'
import { fileURLToPath } from 'node:url'
import { ensureBrowser } from './browser.mjs'
import { ensureBuilt } from './build.mjs'
import { prepare } from './prepare.mjs'
import { endOnSignals, sayTroubleAndStop } from './step.mjs'
import { lastLine, playwrightCounts, sumOf, vitestCounts } from './test-counts.mjs'

const root = fileURLToPath(new URL('../..', import.meta.url))

try {
  endOnSignals()
  process.exitCode = await testAll(process.argv.slice(2))
} catch (error) {
  sayTroubleAndStop(error)
}

/** @param {readonly string[]} filters */
async function testAll(filters) {
  await prepare(root)
  const everything = filters.length === 0
  if (everything) {
    await ensureBrowser(root)
    await ensureBuilt(root)
  }
  const reports = mkdtempSync(join(tmpdir(), 'stand-ledger-tests-'))
  try {
    const counts = [await runVitest(filters, reports)]
    if (everything) counts.push(await runPlaywright(reports))
    const sum = sumOf(counts)
    if (sum.skipped > 0)
      process.stdout.write(`${sum.skipped} skipped; each says why where it stands above.\n`)
    process.stdout.write(`${lastLine(sum)}\n`)
    return sum.failed === 0 ? 0 : 1
  } finally {
    rmSync(reports, { recursive: true, force: true })
  }
}

/** @param {readonly string[]} filters @param {string} reports */
async function runVitest(filters, reports) {
  const file = join(reports, 'vitest.json')
  const args = ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${file}`, ...filters]
  const code = await show(['node_modules/vitest/vitest.mjs', ...args], {})
  return vitestCounts({ code, report: readReport(file) })
}

/** @param {string} reports */
async function runPlaywright(reports) {
  const file = join(reports, 'playwright.json')
  const code = await show(['node_modules/@playwright/test/cli.js', 'test', '--reporter=list,json'], {
    PLAYWRIGHT_JSON_OUTPUT_FILE: file,
  })
  return playwrightCounts({ code, report: readReport(file) })
}

/** @param {string} file @returns {any} what a suite reported, or null where it did not come so far */
function readReport(file) {
  return existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : null
}

/** Runs a test program with its words going straight to the screen. @param {string[]} args @param {Record<string, string>} env */
function show(args, env) {
  return new Promise((done, fail) => {
    const child = spawn(process.execPath, args, {
      cwd: root,
      env: { ...process.env, ...env, NEXT_TELEMETRY_DISABLED: '1' },
      stdio: ['ignore', 'inherit', 'inherit'],
    })
    const end = () => child.kill()
    process.once('exit', end)
    child.on('error', fail)
    child.on('close', (code) => {
      process.removeListener('exit', end)
      done(code ?? 1)
    })
  })
}
