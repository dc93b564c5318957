import { fork } from 'node:child_process'
import { cp, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { currentBuild, nameOfBuild } from '../../../lib/desk/build.mjs'

export const root = fileURLToPath(new URL('../../..', import.meta.url))

export type RunningShop = {
  url: string
  /** Null once the shop is open, as in the demo. */
  firstDayCode: string | null
  folder: string
  /** Everything the server has printed so far. */
  printed(): string
  /** Asks what was started alongside, in the server's own process; rejects where it threw. */
  ask<T>(asked: unknown): Promise<T>
  /** Ends the server in order and takes the folder away; a folder that was handed in stays. */
  close(): Promise<void>
  /** Ends the server the way a power cut does. */
  crash(): Promise<void>
}

type Wanted = {
  demo?: boolean
  https?: boolean
  folder?: string
  /** A shop's folder to begin with a copy of. */
  copyOf?: string
  /**
   * A module, from the project's folder, that runs in the server's process beside it: its default export is
   * given the store the server uses and what a test asks, and its answer goes back.
   */
  alongside?: string
}

type Ready = { url: string; firstDayCode: string | null }
type Told = { no: number; answer?: unknown; failed?: string }

/** Starts the built server in a process of its own, on a free port, with an empty folder unless told one. */
export async function startShop(wanted: Wanted = {}): Promise<RunningShop> {
  const distDir = currentBuild(root)
  if (distDir === null) throw new Error('There is no build to serve. `npm test` and `npm start` make one.')
  if (!distDir.endsWith(nameOfBuild(root))) {
    console.warn('The pages were changed since they were built; this runs the build as it is.')
  }
  const folder = wanted.folder ?? (await mkdtemp(join(tmpdir(), 'stand-ledger-shop-')))
  if (wanted.copyOf !== undefined) await cp(wanted.copyOf, folder, { recursive: true })
  const alongside = wanted.alongside && join(root, wanted.alongside)
  const settings = JSON.stringify({
    folder,
    distDir,
    demo: wanted.demo ?? false,
    https: wanted.https ?? false,
    alongside,
  })
  const child = fork(fileURLToPath(new URL('./serve.mjs', import.meta.url)), [settings], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
    execArgv: [],
    env: { ...process.env, NODE_ENV: 'production', NEXT_TELEMETRY_DISABLED: '1' },
  })
  let printed = ''
  child.stdout?.on('data', (chunk) => {
    printed += chunk
  })
  child.stderr?.on('data', (chunk) => {
    printed += chunk
  })
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve))
  const ready = new Promise<Ready>((resolve, reject) => {
    child.once('message', (message) => resolve(message as Ready))
    child.once('exit', () => reject(new Error(`The server did not start:\n${printed}`)))
  })
  const { url, firstDayCode } = await ready
  const waiting = new Map<number, (told: Told) => void>()
  child.on('message', (message) => {
    const told = message as Told
    waiting.get(told.no)?.(told)
    waiting.delete(told.no)
  })
  let asking = 0
  return {
    url,
    firstDayCode,
    folder,
    printed: () => printed,
    ask<T>(asked: unknown) {
      asking += 1
      const no = asking
      return new Promise<T>((resolve, reject) => {
        waiting.set(no, ({ answer, failed }) =>
          failed === undefined ? resolve(answer as T) : reject(new Error(failed)),
        )
        child.send({ no, asked })
      })
    },
    async close() {
      child.kill('SIGTERM')
      const code = await ended
      if (wanted.folder === undefined) await rm(folder, { recursive: true, force: true })
      if (code !== 0) throw new Error(`The server did not end in order (${code}):\n${printed}`)
    },
    async crash() {
      child.kill('SIGKILL')
      await ended
    },
  }
}
