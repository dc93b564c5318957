import { spawn } from 'node:child_process'
import { Readable, Writable } from 'node:stream'
import { dayOf } from '../../lib/core/quantity/days'
import { calc } from '../../lib/desk/calc'

export interface Run {
  status: number | null
  out: string
  err: string
}

/** The command within this process: the same function that the terminal's program calls, without its start. */
export async function calcHere(args: string[], stdin = ''): Promise<Run> {
  const run = { out: '', err: '' }
  const into = (key: keyof typeof run) =>
    new Writable({
      write(chunk, _encoding, done) {
        run[key] += String(chunk)
        done()
      },
    })
  const terminal = {
    stdin: Readable.from([Buffer.from(stdin)]),
    stdout: into('out'),
    stderr: into('err'),
    today: dayOf(2026, 11, 25),
  }
  return { status: await calc(args, terminal), ...run }
}

/** The command as from a terminal, in a process of its own. */
export function calcStarted(args: string[], stdin = ''): Promise<Run> {
  return start(process.execPath, ['lib/desk/calc.mjs', ...args], stdin)
}

export function start(command: string, args: string[], stdin: string): Promise<Run> {
  return new Promise((done, fail) => {
    const child = spawn(command, args, { cwd: new URL('../..', import.meta.url) })
    let out = ''
    let err = ''
    child.stdout.setEncoding('utf8').on('data', (text) => {
      out += text
    })
    child.stderr.setEncoding('utf8').on('data', (text) => {
      err += text
    })
    child.on('error', fail)
    child.on('close', (status) => done({ status, out, err }))
    // A run that reads no input may be gone before it is written.
    child.stdin.on('error', () => {})
    child.stdin.end(stdin)
  })
}
