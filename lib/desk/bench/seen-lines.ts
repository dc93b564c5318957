import { startingCatalogue } from '../../catalogue/starting-catalogue'
import { type BikeToWorkOut, workOut, workOutForBoard } from '../../core/board/bike-result'
import { startingFigures } from '../../core/board/starting-figures'
import { noWork } from '../../core/checks/judge-bike'
import { estimate } from '../../core/work/estimate'
import { medianOf } from './measure'
import { simulatedSorted } from './plain-simulation'
import { type Extent, type Line, simulation } from './table'

/** A bike of which the kind, a sale price and an asking price are known and nothing was read: everything is open. */
const unseen: BikeToWorkOut = {
  catalogue: startingCatalogue,
  kind: {
    class: 'motorcycle',
    rims: 'alloy',
    camDrive: 'chain',
    starter: 'electric',
    immobiliser: 'no',
    finalDrive: 'chain',
    cooling: 'liquid',
    fuelling: 'carburettors',
    frontBrake: 'twin-disc',
    rearBrake: 'disc',
    abs: 'no',
    wheels: 'cast',
    strokes: 'four',
    centreStand: 'yes',
  },
  readings: [],
  limits: [],
  decisions: [],
  clearings: [],
  work: noWork,
  ridePapers: { noted: true },
  asOf: '2026-11-25',
  now: '2026-11-25T10:00:00Z',
  figures: startingFigures,
  sale: { low: 200_000, likely: 235_000, high: 260_000 },
  price: { amountMinor: 140_000, basis: 'asking' },
}

/** From no reading at all to everything a page shows of a bike, and to its line of the board. */
export function* seenLines({ runs, draws }: Extent): Generator<Line> {
  const { estimateInput } = workOut(unseen)
  const { jobs, operations } = estimateInput
  const of = `a bike nobody has looked at, of the starting catalogue (${jobs.length} jobs, ${Object.keys(operations).length} operations)`
  const how = { warm: 3, runs: Math.max(5, runs) }
  const copy = () => structuredClone(estimateInput)
  const its = { name: 'its estimate', took: medianOf(copy, estimate, how) }
  const drawn = medianOf(copy, (input) => simulatedSorted(input, { draws, seed: 7 }), { warm: 1, runs: 3 })
  yield { what: `estimate of ${of}`, ours: its.took, reference: { name: simulation, took: drawn } }
  const all = medianOf(() => unseen, workOut, how)
  yield {
    what: 'all that a page shows of it: verdicts, faults, jobs, estimate, deal',
    ours: all,
    reference: its,
    told: 'as long',
  }
  const line = medianOf(() => unseen, workOutForBoard, how)
  yield { what: 'its line of the board', ours: line, reference: its, told: 'as long' }
}
