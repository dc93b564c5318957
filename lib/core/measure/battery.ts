import type { BatteryInput } from './battery.input'
import { interpolate, type Point, withinWhole } from './battery-table'

export interface Battery {
  /** Shares of a full charge, 0 to 1. */
  stateOfCharge: { low: number; likely: number; high: number }
  /** What makes the reading doubtful, and what to take care of. */
  notes: string[]
}

/**
 * State of charge of a 12 V battery from its voltage at rest: interpolated in the table of its chemistry and
 * told as a band, since published tables differ from one another and a voltage is no more than a hint.
 * The tables hold at about 25 °C; the reading is not corrected for temperature.
 */
export function battery({ restVolts, restHours, temperatureC, chemistry }: BatteryInput): Battery {
  const { points, spread } = tables[chemistry]
  const likely = interpolate(points, restVolts)
  return {
    stateOfCharge: { low: withinWhole(likely - spread), likely, high: withinWhole(likely + spread) },
    notes: notesOn({ restVolts, restHours, temperatureC, chemistry }),
  }
}

interface Table {
  /** Where its values are from. */
  source: string
  /** Volts at rest and charge, rising in both. */
  points: readonly Point[]
  /** How far apart tables put the same voltage, to either side. */
  spread: number
}

export const tables: Record<BatteryInput['chemistry'], Table> = {
  flooded: {
    // 100, 75, 50, 25 % are specific gravities of 1.265, 1.225, 1.190, 1.155, which stand at 12.60, 12.45, 12.24
    // and 12.06 V; 1.120 for empty is below the second table and continues its last step, 0.18 V for 0.035.
    // That table gives ranges, 0.04 to 0.08 V wide: up to about a tenth of the charge.
    source:
      'US Army TM 5-3820-256-24-4, table 2 (charge by specific gravity); a public battery table (volts)',
    points: [
      [11.88, 0],
      [12.06, 0.25],
      [12.24, 0.5],
      [12.45, 0.75],
      [12.6, 1],
      [12.68, 1],
    ],
    spread: 0.1,
  },
  agm: {
    source: 'a common table for absorbed glass mat batteries, from memory',
    points: [
      [11.8, 0],
      [12, 0.25],
      [12.3, 0.5],
      [12.6, 0.75],
      [12.8, 1],
      [12.9, 1],
    ],
    spread: 0.1,
  },
  gel: {
    source: 'a common table for gel batteries, from memory',
    points: [
      [11.8, 0],
      [12, 0.25],
      [12.35, 0.5],
      [12.65, 0.75],
      [12.85, 1],
      [12.95, 1],
    ],
    spread: 0.1,
  },
  lifepo4: {
    // Between a fifth and nine tenths the voltage hardly moves, so tables lie far apart.
    source: 'a common table for four cells of lithium iron phosphate, from memory',
    points: [
      [10, 0],
      [12, 0.1],
      [12.8, 0.2],
      [13, 0.4],
      [13.1, 0.55],
      [13.2, 0.7],
      [13.4, 0.9],
      [13.6, 1],
    ],
    spread: 0.2,
  },
}

function notesOn({
  restVolts,
  restHours,
  temperatureC,
  chemistry,
}: Omit<BatteryInput, 'nominalVolts'>): string[] {
  const { points } = tables[chemistry]
  const [lowest, highest] = [points[0]![0], points.at(-1)![0]]
  const notes = []
  if (restHours < 2) {
    notes.push(
      'It rested for under two hours: after charging it still reads too high, after use too low. Measure again later.',
    )
  }
  if (restVolts > highest) {
    notes.push(
      `${restVolts} V lies above the table, which ends at ${highest} V: is it on a charger, or of another chemistry?`,
    )
  }
  if (restVolts < lowest) {
    notes.push(
      `${restVolts} V lies below the table, which begins at ${lowest} V: it is empty or has a dead cell. ` +
        'Charge it only with a charger made for that, in the open, away from sparks.',
    )
  }
  if (temperatureC < 0 || temperatureC > 40) {
    notes.push(`The table is for about 25 °C; at ${temperatureC} °C the band is less sure.`)
  }
  if (temperatureC < 0 && chemistry !== 'lifepo4') {
    notes.push('Low in charge it may be frozen: do not charge or jump it before it has thawed.')
  }
  if (temperatureC < 0 && chemistry === 'lifepo4') {
    notes.push('Cells of this kind are harmed by charging below freezing: warm it first.')
  }
  return notes
}
