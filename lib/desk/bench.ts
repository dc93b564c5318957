import { availableParallelism, cpus, loadavg } from 'node:os'
import process from 'node:process'
import { dealLines, estimateLines } from './bench/estimate-lines'
import { nextCheckLines } from './bench/next-check-lines'
import { planLines, projectRows } from './bench/plan-lines'
import { scopeLines } from './bench/scope-lines'
import { seenLines } from './bench/seen-lines'
import { type Extent, head, type Line, quick, rowOf, whole } from './bench/table'

/**
 * npm run bench [-- --quick]
 *
 * How long the calculations take, each beside the same done another way in the same run. Nothing is asserted: machines
 * differ, ratios of one run much less.
 */
const parts: ((extent: Extent) => Iterable<Line> | Promise<Line[]>)[] = [
  estimateLines,
  dealLines,
  nextCheckLines,
  scopeLines,
  seenLines,
  planLines,
]

async function main(): Promise<void> {
  const strange = process.argv.slice(2).find((argument) => argument !== '--quick')
  if (strange !== undefined) throw new Error(`${strange} is not known here. There is --quick.`)
  const extent = process.argv.includes('--quick') ? quick : whole
  const [busy] = loadavg()
  console.log(
    `Node ${process.version}, ${cpus()[0]?.model.trim() ?? 'unknown processor'}, ${availableParallelism()} cores, ` +
      `${process.platform} ${process.arch}, load ${busy?.toFixed(1)} at the start.`,
  )
  console.log(
    'Milliseconds of processor time, in brackets on the clock. Bikes are invented, from seeds 1, 2, …\n',
  )
  console.log(head())
  for (const part of parts) {
    for (const line of await part(extent)) console.log(rowOf(line))
  }
  console.log('')
  for (const row of projectRows(extent)) console.log(row)
}

main().catch((error: unknown) => {
  console.error(error instanceof Error ? error.message : error)
  process.exitCode = 1
})
