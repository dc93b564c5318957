import { convert } from '../quantity/units'
import { interpolate, type Point, withinWhole } from './battery-table'
import type { SpecificGravityInput } from './specific-gravity.input'

export interface SpecificGravity {
  /** In the order of the readings. */
  cells: {
    /** What the float would show at 80 °F (26.7 °C). */
    corrected: number
    /** Share of a full charge, 0 to 1. */
    stateOfCharge: number
  }[]
  /** The cell with the lowest reading, from 0; the first of equals. It sets what the battery can give. */
  lowestIndex: number
  /** Highest less lowest. */
  difference: number
  /** `apart`: further than the cells of a sound charged battery stand from one another. */
  evenness: 'even' | 'apart'
  /** What to do next, and what makes the reading doubtful. */
  notes: string[]
}

/** At this temperature a float reads true; away from it 0.004 is added for each 10 °F above, taken off below. */
const trueAtF = 80
const correctionPerF = 0.004 / 10
/** Charged cells that stand further apart than this make a battery unserviceable. */
const mostApart = 0.025

/**
 * The acid of a lead-acid battery cell by cell: corrected for temperature, its charge, and whether one cell stands
 * away from the others. Correction: US Army TM 5-4210-230-14&P-1. Charge: TM 5-3820-256-24-4, table 2, straight
 * between its points. Difference of cells: TM 9-6140-200-14, 4-7.
 */
export function specificGravity({ readings, temperatureC }: SpecificGravityInput): SpecificGravity {
  const byTemperature = correctionPerF * (convert(temperatureC, 'degC', 'degF') - trueAtF)
  const corrected = readings.map((reading) => withoutDust(reading + byTemperature))
  const [lowest, highest] = [Math.min(...corrected), Math.max(...corrected)]
  const difference = withoutDust(highest - lowest)
  const evenness = difference > mostApart ? 'apart' : 'even'
  return {
    cells: corrected.map((gravity) => ({
      corrected: gravity,
      stateOfCharge: withinWhole(interpolate(chargeByGravity, gravity)),
    })),
    lowestIndex: corrected.indexOf(lowest),
    difference,
    evenness,
    notes: notesOn({ lowest, highest, evenness }),
  }
}

const chargeByGravity: readonly Point[] = [
  [1.12, 0],
  [1.155, 0.25],
  [1.19, 0.5],
  [1.225, 0.75],
  [1.265, 1],
]
/** Full cells are told as up to this, by a public battery table; acid above it has been added or has dried in. */
const fullest = 1.285

/** To nine decimals: a float is read to 0.001, so what is past that is the dust of binary fractions. */
function withoutDust(gravity: number): number {
  return Number(gravity.toFixed(9))
}

function notesOn({
  lowest,
  highest,
  evenness,
}: {
  lowest: number
  highest: number
  evenness: SpecificGravity['evenness']
}): string[] {
  const notes = []
  if (evenness === 'apart') {
    notes.push(
      `The cells stand more than ${mostApart} apart. Charged, this battery is unserviceable; otherwise charge it and read again.`,
    )
  }
  if (highest > fullest) {
    notes.push(
      `Above ${fullest} a cell is stronger than full: acid was added, or water is low. Read it again at the right level.`,
    )
  }
  if (lowest < chargeByGravity[0]![0]) {
    notes.push('Below 1.12 a cell is empty or dead: charge it slowly and read again.')
  }
  return notes
}
