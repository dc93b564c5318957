import type { CareSign } from '../core/checks/catalogue'
import { startingValue } from './sources'

/**
 * Tell-tales of how a bike was cared for, and their good opposites. Which looks tell it is common practice; how
 * often each answer comes on a bike kept, average or neglected is invented in every line, a starting value.
 */
export const careSigns: readonly CareSign[] = [
  {
    key: 'screws',
    title: 'Heads of the screws',
    checks: ['screws-and-threads'],
    likelihood: {
      whole: { kept: 0.93, average: 0.75, neglected: 0.4 },
      chewed: { kept: 0.05, average: 0.2, neglected: 0.45 },
      stripped: { kept: 0.02, average: 0.05, neglected: 0.15 },
    },
    source: startingValue,
  },
  {
    key: 'brake-fluid',
    title: 'Colour of the brake fluid',
    checks: ['brake-fluid-front', 'brake-fluid-rear'],
    likelihood: {
      clear: { kept: 0.8, average: 0.5, neglected: 0.15 },
      dark: { kept: 0.15, average: 0.4, neglected: 0.65 },
      low: { kept: 0.04, average: 0.08, neglected: 0.13 },
      empty: { kept: 0.01, average: 0.02, neglected: 0.07 },
    },
    source: startingValue,
  },
  {
    key: 'chain',
    title: 'Oil on the chain',
    checks: ['chain-oil'],
    likelihood: {
      oiled: { kept: 0.85, average: 0.5, neglected: 0.12 },
      dry: { kept: 0.13, average: 0.4, neglected: 0.5 },
      rusty: { kept: 0.02, average: 0.1, neglected: 0.38 },
    },
    source: startingValue,
  },
]
