// `npm run -s calc -- NAME`: until the packages are installed only Node's own modules may be imported here.
import process from 'node:process'
import { fileURLToPath } from 'node:url'
import { ensureInstalled } from './install.mjs'
import { requireNode } from './node-version.mjs'
import { sayTroubleAndStop } from './step.mjs'

requireNode()
try {
  // Standard output belongs to the answer, so the installation speaks on standard error.
  await ensureInstalled(fileURLToPath(new URL('../..', import.meta.url)), process.stderr)
} catch (error) {
  sayTroubleAndStop(error)
}

// A reader that has seen enough, such as `head`, closes the pipe: no fault of anybody's.
process.stdout.on('error', (error) => {
  if (error.code === 'EPIPE') process.exit()
  throw error
})

const { register } = await import('tsx/esm/api')
register()
const { calc, todayHere } = await import('./calc.ts')
// The status is set and not forced: a pipe is written after this line, and an exit would cut it off.
process.exitCode = await calc(process.argv.slice(2), {
  stdin: process.stdin,
  stdout: process.stdout,
  stderr: process.stderr,
  today: todayHere(new Date()),
})
