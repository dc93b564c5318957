import type { Catalogue } from '../core/checks/catalogue'
import { careSigns } from './care-signs'
import { cautions } from './cautions'
import { coldChecks } from './checks-cold'
import { roadChecks } from './checks-road'
import { runningChecks } from './checks-running'
import { standChecks } from './checks-stand'
import { torqueChecks } from './checks-torque'
import { faults } from './faults'
import { jobs } from './jobs'
import { operations } from './operations'

/** What a shop has on its first day; its own changes are merged over this and never written into it. */
export const startingCatalogue: Catalogue = {
  checks: [...coldChecks, ...standChecks, ...torqueChecks, ...runningChecks, ...roadChecks],
  faults,
  jobs,
  operations,
  cautions,
  careSigns,
}
