import { spawn } from 'node:child_process'
import process from 'node:process'

/** A line at least this often where the output is a file or a pipe and cannot be rewritten in place. */
const SECONDS_BETWEEN_LINES = 15

/**
 * Does one long step and says what it does, how far it is and how long it took.
 *
 * @template T
 * @param {string} name what is done, in a few words
 * @param {(tell: (howFar: string) => void) => Promise<T>} work
 * @param {NodeJS.WriteStream} out where to speak
 * @returns {Promise<T>}
 */
export async function step(name, work, out = process.stdout) {
  const began = Date.now()
  const seconds = () => Math.round((Date.now() - began) / 1000)
  let howFar = ''
  let lastLineAt = began

  const show = () => {
    const line = `  ${name} … ${[howFar, `${seconds()} s`].filter(Boolean).join(', ')}`
    if (out.isTTY) out.write(`\r\u001b[2K${line.slice(0, (out.columns || 80) - 1)}`)
    else if (Date.now() - lastLineAt >= SECONDS_BETWEEN_LINES * 1000) {
      lastLineAt = Date.now()
      out.write(`${line}\n`)
    }
  }
  if (!out.isTTY) out.write(`  ${name} …\n`)
  const timer = setInterval(show, 1000)
  try {
    const answer = await work((text) => {
      howFar = text
      show()
    })
    out.write(`${out.isTTY ? '\r\u001b[2K' : ''}  ${name}: done in ${seconds()} s\n`)
    return answer
  } catch (error) {
    out.write(`${out.isTTY ? '\r\u001b[2K' : ''}  ${name}: failed after ${seconds()} s\n`)
    throw error
  } finally {
    clearInterval(timer)
  }
}

/**
 * Runs a program and hands on its lines. It ends when this process ends.
 *
 * @param {string} command
 * @param {readonly string[]} args
 * @param {{ cwd: string, env?: Record<string, string>, onLine?: (line: string) => void }} how
 * @returns {Promise<{ code: number, output: string }>}
 */
export function run(command, args, { cwd, env = {}, onLine = () => {} }) {
  return new Promise((done, fail) => {
    const child = spawn(command, args, {
      cwd,
      env: { ...process.env, ...env },
      stdio: ['ignore', 'pipe', 'pipe'],
    })
    const end = () => child.kill()
    process.once('exit', end)
    let output = ''
    let rest = ''
    const take = (/** @type {Buffer} */ chunk) => {
      output += chunk
      const lines = (rest + chunk).split(/\r?\n/)
      rest = lines.pop() ?? ''
      for (const line of lines) if (line.trim()) onLine(line.trim())
    }
    child.stdout.on('data', take)
    child.stderr.on('data', take)
    child.on('error', fail)
    child.on('close', (code) => {
      process.removeListener('exit', end)
      done({ code: code ?? 1, output })
    })
  })
}

/**
 * Lets a signal end this process by way of its `exit` event, so that programs started by `run` end too.
 * Answers a function that takes this back.
 */
export function endOnSignals() {
  const signals = /** @type {const} */ ({ SIGINT: 130, SIGTERM: 143 })
  const stops = Object.entries(signals).map(([signal, code]) => {
    const end = () => process.exit(code)
    process.on(signal, end)
    return () => process.removeListener(signal, end)
  })
  return () => {
    for (const stop of stops) stop()
  }
}

/** Something a person can put right: said in plain words, without a stack of the program's own lines. */
export class Trouble extends Error {}

/** @param {unknown} error */
export function sayTroubleAndStop(error) {
  if (error instanceof Trouble) process.stderr.write(`\n${error.message}\n`)
  else console.error(error)
  process.exit(1)
}
