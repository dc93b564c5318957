// `npm run check`: types, lint and formatting, and the house's order of imports; each is named.
import process from 'node:process'
import { fileURLToPath } from 'node:url'
import { prepare } from './prepare.mjs'
import { endOnSignals, run, sayTroubleAndStop, step, Trouble } from './step.mjs'

const root = fileURLToPath(new URL('../..', import.meta.url))

const checks = [
  // The types of pages and routes are written by Next from the folders of app.
  { name: 'Types of the routes', program: 'node_modules/next/dist/bin/next', args: ['typegen'] },
  { name: 'Types', program: 'node_modules/typescript/bin/tsc', args: ['--noEmit', '--pretty'] },
  { name: 'Lint and format', program: 'node_modules/@biomejs/biome/bin/biome', args: ['check'] },
  {
    name: 'The order of the house',
    program: 'node_modules/vitest/vitest.mjs',
    args: ['run', 'tests/house.test.ts'],
  },
]

try {
  endOnSignals()
  await prepare(root)
  await checkAll()
} catch (error) {
  sayTroubleAndStop(error)
}

async function checkAll() {
  const failed = []
  for (const check of checks) {
    const passes = await passesCheck(check)
    if (!passes) failed.push(check.name)
  }
  if (failed.length > 0) throw new Trouble(`Not in order: ${failed.join(', ')}. What is wrong stands above.`)
  process.stdout.write('All in order.\n')
}

/** @param {{ name: string, program: string, args: string[] }} check */
async function passesCheck({ name, program, args }) {
  try {
    await step(name, async () => {
      const how = { cwd: root, env: { NEXT_TELEMETRY_DISABLED: '1' } }
      const { code, output } = await run(process.execPath, [program, ...args], how)
      if (code !== 0) throw new Trouble(output)
    })
    return true
  } catch (error) {
    if (!(error instanceof Trouble)) throw error
    process.stdout.write(`${error.message}\n`)
    return false
  }
}
