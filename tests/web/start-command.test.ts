import { spawn } from 'node:child_process'
import { createHash } from 'node:crypto'
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { createServer } from 'node:net'
import { networkInterfaces, tmpdir } from 'node:os'
import { join } from 'node:path'
import { PassThrough } from 'node:stream'
import { fileURLToPath } from 'node:url'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { currentBuild, ensureBuilt, nameOfBuild } from '../../lib/desk/build.mjs'
import { openDemoFolder, refuseDemoFolder } from '../../lib/desk/demo-folder.mjs'
import { greeting, lanAddresses, qrCode } from '../../lib/desk/greeting'
import { tooOldNode } from '../../lib/desk/node-version.mjs'
import { lastLine, playwrightCounts, sumOf, vitestCounts } from '../../lib/desk/test-counts.mjs'

const root = fileURLToPath(new URL('../..', import.meta.url))

let folder: string
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'stand-ledger-start-'))
})
afterEach(() => rm(folder, { recursive: true, force: true }))

describe('the start command', () => {
  it('says what to do where the port is taken', async () => {
    const other = createServer()
    await new Promise<void>((done) => other.listen({ port: 0, host: '127.0.0.1' }, done))
    const port = String((other.address() as { port: number }).port)
    const { code, said } = await start([], { PORT: port, HOST: '127.0.0.1' })
    await new Promise((done) => other.close(done))
    expect(code).toBe(1)
    expect(said).toContain(`Port ${port} is taken`)
    expect(said).toMatch(/another port: {2}PORT=\d+ npm run/)
    expect(said).not.toMatch(/\n\s+at /)
  })

  it.each([
    ['an argument it does not know', ['--demmo'], {}, '"--demmo" is not known here'],
    ['throwing a real shop away', ['--fresh'], {}, '--fresh is only for the demo'],
    ['a port that is none', [], { PORT: 'three' }, 'PORT is "three"'],
    ['an address of another machine', [], { HOST: '192.0.2.1' }, 'no address of this machine'],
  ])('refuses %s', async (_title, args, env, message) => {
    const { code, said } = await start(args, env)
    expect(code).toBe(1)
    expect(said).toContain(message)
    expect(said).not.toMatch(/\n\s+at /)
  })

  it('shows its help', async () => {
    const { code, said } = await start(['--help'], {})
    expect(code).toBe(0)
    for (const name of ['PORT', 'HOST', 'STAND_LEDGER_DATA', '--fresh']) expect(said).toContain(name)
  })

  it('does not play with a real shop, even when told to start afresh', async () => {
    await writeFile(join(folder, 'shop.db'), 'precious')
    const { code, said } = await start(['--demo', '--fresh'], { PORT: '0', HOST: '127.0.0.1' })
    expect(code).toBe(1)
    expect(said).toContain('not the invented shop')
    expect(await readFile(join(folder, 'shop.db'), 'utf8')).toBe('precious')
  })

  function start(args: string[], env: Record<string, string>): Promise<{ code: number; said: string }> {
    return new Promise((done) => {
      const child = spawn(process.execPath, ['lib/desk/start.mjs', ...args], {
        cwd: root,
        env: { ...process.env, STAND_LEDGER_DATA: folder, ...env },
      })
      let said = ''
      child.stdout.on('data', (chunk) => {
        said += chunk
      })
      child.stderr.on('data', (chunk) => {
        said += chunk
      })
      child.on('close', (code) => done({ code: code ?? -1, said }))
    })
  }
})

describe('the folder of the invented shop', () => {
  it('keeps its shop when started again, and empties it when asked', async () => {
    openDemoFolder(folder, { fresh: false })
    await writeFile(join(folder, 'shop.db'), 'invented')
    openDemoFolder(folder, { fresh: false })
    expect(await readdir(folder)).toContain('shop.db')
    openDemoFolder(folder, { fresh: true })
    expect(await readdir(folder)).not.toContain('shop.db')
  })

  it('is not served as a real shop', () => {
    openDemoFolder(folder, { fresh: false })
    expect(() => refuseDemoFolder(folder)).toThrow('npm run demo')
  })

  it('is not thrown away while somebody has it open', async () => {
    openDemoFolder(folder, { fresh: false })
    await writeFile(join(folder, 'owner.pid'), `${process.pid}\n`)
    expect(() => openDemoFolder(folder, { fresh: true })).toThrow('open in another window')
  })
})

describe('the version of Node', () => {
  it.each(['20.19.0', '20.20.2', '22.0.0', '24.1.0'])('%s will do', (version) => {
    expect(tooOldNode(version)).toBeNull()
  })
  it.each(['8.17.0', '18.20.4', '20.18.3'])('%s is too old, and it is said plainly', (version) => {
    expect(tooOldNode(version)).toContain(`here is Node ${version}`)
  })
})

describe('a build', () => {
  /** A project whose builder does what the file `builder-says` asks for. */
  async function project(): Promise<string> {
    const bin = join(folder, 'node_modules/next/dist/bin')
    await mkdir(bin, { recursive: true })
    await mkdir(join(folder, 'app'))
    await mkdir(join(folder, 'lib/desk'), { recursive: true })
    await writeFile(join(folder, 'package-lock.json'), '{}')
    await writeFile(join(folder, 'app/page.tsx'), 'one')
    await writeFile(
      join(bin, 'next'),
      `const fs = require('node:fs')
       if (fs.readFileSync('app/page.tsx', 'utf8') === 'broken') { console.error('page.tsx: broken'); process.exit(1) }
       fs.copyFileSync('app/page.tsx', process.env.STAND_LEDGER_BUILD + '/page')`,
    )
    return folder
  }

  const quiet = new PassThrough().resume() as unknown as NodeJS.WriteStream
  const built = (of: string) => readFile(join(folder, of, 'page'), 'utf8')
  const change = (text: string) => writeFile(join(folder, 'app/page.tsx'), text)

  it('is made once for the same sources', async () => {
    const here = await project()
    const first = await ensureBuilt(here, quiet)
    await rm(join(here, 'node_modules'), { recursive: true })
    expect(await ensureBuilt(here, quiet)).toBe(first)
    expect(currentBuild(here)).toBe(first)
  })

  it('does not touch the one before it, not even when it fails', async () => {
    const here = await project()
    const first = await ensureBuilt(here, quiet)
    await change('broken')
    await expect(ensureBuilt(here, quiet)).rejects.toThrow('page.tsx: broken')
    expect(currentBuild(here)).toBe(first)
    expect(await built(first)).toBe('one')
  })

  it('is made again when the sources change, and only two are kept', async () => {
    const here = await project()
    const builds = []
    for (const text of ['one', 'two', 'three']) {
      await change(text)
      builds.push(await ensureBuilt(here, quiet))
    }
    expect(new Set(builds).size).toBe(3)
    expect(currentBuild(here)).toBe(builds[2])
    const kept = (await readdir(join(here, '.build'))).filter((name) => /^[0-9a-f]{16}$/.test(name))
    expect(kept.length).toBe(2)
    expect(await built(builds[2] ?? '')).toBe('three')
  })

  it('does not depend on commands of the terminal or on papers', async () => {
    const here = await project()
    const before = nameOfBuild(here)
    await writeFile(join(here, 'lib/desk/other.mjs'), 'x')
    await writeFile(join(here, 'app/README.md'), 'x')
    expect(nameOfBuild(here)).toBe(before)
    await writeFile(join(here, 'lib/other.ts'), 'x')
    expect(nameOfBuild(here)).not.toBe(before)
  })

  it('is named alike for the same content whatever its date', async () => {
    const here = await project()
    const before = nameOfBuild(here)
    await change('two')
    await change('one')
    expect(nameOfBuild(here)).toBe(before)
    expect(before).toHaveLength(createHash('sha256').digest('hex').length / 4)
  })
})

describe('what the terminal says at the start', () => {
  it('names this machine, the network, the code and the way out', () => {
    const said = greeting({ port: 3000, firstDayCode: 'ABCD-EFGH', demo: false })
    expect(said).toContain('http://localhost:3000')
    expect(said).toContain('ABCD-EFGH')
    expect(said).toContain('Ctrl-C')
    for (const address of lanAddresses()) expect(said).toContain(`http://${address}:3000`)
  })

  it('shows no square and no network where it listens to this machine alone', () => {
    const said = greeting({ port: 3000, host: '127.0.0.1', firstDayCode: null, demo: false })
    expect(said).not.toMatch(/[▀▄█]/)
    expect(said).not.toContain('network')
    expect(said).not.toContain('type this code')
  })

  it('names only addresses of this machine that are not its loopback', () => {
    const own = Object.values(networkInterfaces()).flatMap((all) => all ?? [])
    for (const address of lanAddresses()) {
      expect(own.find((one) => one.address === address)).toMatchObject({ internal: false, family: 'IPv4' })
    }
  })

  it('draws a square with the three corners a camera looks for', () => {
    // ISO/IEC 18004: version 2 has 25 modules a side; with a margin of 2 and two rows a line, 15 lines of 29.
    const lines = qrCode('http://192.168.178.21:3000').split('\n')
    expect(lines).toHaveLength(15)
    expect(new Set(lines.map((line) => [...line].length))).toEqual(new Set([29]))
  })
})

describe('the count of the tests', () => {
  const vitest = (over: object) => ({
    numPassedTests: 3,
    numFailedTests: 0,
    numPendingTests: 0,
    numTodoTests: 0,
    testResults: [],
    ...over,
  })
  const unloaded = { status: 'failed', assertionResults: [] }
  const oneFailed = { status: 'failed', assertionResults: [{ status: 'passed' }, { status: 'failed' }] }

  it.each([
    ['all passed', { code: 0, report: vitest({}) }, [3, 0, 0]],
    ['some skipped', { code: 0, report: vitest({ numPendingTests: 2, numTodoTests: 1 }) }, [3, 0, 3]],
    ['one failed', { code: 1, report: vitest({ numFailedTests: 1, testResults: [oneFailed] }) }, [3, 1, 0]],
    ['a file that could not be loaded', { code: 1, report: vitest({ testResults: [unloaded] }) }, [3, 1, 0]],
    ['an error outside any test', { code: 1, report: vitest({}) }, [3, 1, 0]],
    ['nothing collected', { code: 0, report: vitest({ numPassedTests: 0 }) }, [0, 1, 0]],
    ['no report at all', { code: 0, report: null }, [0, 1, 0]],
  ])('of the first suite: %s', (_title, outcome, [passed, failed, skipped]) => {
    expect(vitestCounts(outcome)).toEqual({ passed, failed, skipped })
  })

  it.each([
    ['all passed', 0, { expected: 4, unexpected: 0, flaky: 0, skipped: 1 }, [4, 0, 1]],
    ['one that passed at the second try', 0, { expected: 4, unexpected: 0, flaky: 1, skipped: 0 }, [4, 1, 0]],
    ['some failed', 1, { expected: 1, unexpected: 2, flaky: 0, skipped: 0 }, [1, 2, 0]],
    ['the browser did not start', 1, { expected: 0, unexpected: 0, flaky: 0, skipped: 0 }, [0, 1, 0]],
  ])('of the browser: %s', (_title, code, stats, [passed, failed, skipped]) => {
    expect(playwrightCounts({ code, report: { stats } })).toEqual({ passed, failed, skipped })
  })

  it('ends in one line over all', () => {
    const all = [
      { passed: 3, failed: 1, skipped: 2 },
      { passed: 4, failed: 0, skipped: 0 },
    ]
    expect(lastLine(sumOf(all))).toBe('7 passed, 1 failed')
  })
})
