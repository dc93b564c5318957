import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { projectRoot } from '../../lib/data/root'

export type WritingProcess = {
  /** What it said was acknowledged so far. */
  acknowledged: string[]
  /** Resolves when that many lines have come; rejects with what it complained about if it ends before. */
  until(lines: number): Promise<void>
  /** No goodbye: the process is gone in the middle of whatever it was doing. */
  kill(): Promise<void>
}

/** Starts `writer.ts` on a shop's folder. */
export function startWriter(args: readonly string[]): WritingProcess {
  const root = projectRoot()
  const script = join(root, 'tests', 'support', 'writer.ts')
  const child = spawn(process.execPath, ['--import', 'tsx', script, ...args], { cwd: root })
  const ended = once(child, 'exit')
  const acknowledged: string[] = []
  let complaint = ''
  let wake = () => {}
  child.stderr.on('data', (text) => {
    complaint += text
  })
  const lines = createInterface({ input: child.stdout })
  const read = once(lines, 'close')
  lines.on('line', (line) => {
    acknowledged.push(line)
    wake()
  })
  return {
    acknowledged,
    async until(count) {
      while (acknowledged.length < count) {
        const next = new Promise<'line'>((resolve) => {
          wake = () => resolve('line')
        })
        const first = await Promise.race([next, ended.then(() => 'ended' as const)])
        if (first === 'ended') throw new Error(`The writing process ended early: ${complaint}`)
      }
    },
    async kill() {
      child.kill('SIGKILL')
      await ended
      await read
    },
  }
}
