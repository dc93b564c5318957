import type { Check, ShortPlace } from '../../../../lib/core/checks/catalogue'
import { type EntryKind, entryKinds } from '../../../../lib/core/checks/catalogue-problems'
import type { EntryDone } from '../../../../lib/shop/catalogue-change'
import type { EntryState } from '../../../../lib/shop/read-catalogue'

/** How the kinds of entry are called, and under which address they stand. */
export const kindWords: Record<EntryKind, { one: string; many: string; title: string; says: string }> = {
  check: {
    one: 'check',
    many: 'checks',
    title: 'Checks',
    says: 'What is measured, looked at and noted, and what each answer means.',
  },
  fault: {
    one: 'fault',
    many: 'faults',
    title: 'Faults',
    says: 'What can be wrong, what it asks for, how often it hides, and what cures it.',
  },
  job: {
    one: 'job',
    many: 'jobs',
    title: 'Jobs',
    says: 'Work with its own hours, parts and what is paid outside.',
  },
  operation: {
    one: 'operation',
    many: 'operations',
    title: 'Operations',
    says: 'Labour that several jobs share, counted once on a bike.',
  },
}

/** The kind that an address names; null where it names none. */
export function kindOf(address: string): EntryKind | null {
  return entryKinds.find((kind) => kindWords[kind].many === address) ?? null
}

export const stateWords: Record<EntryState, string> = {
  starting: 'Starting values',
  changed: 'Set by the shop',
  own: 'The shop’s own',
  'out of use': 'No longer used',
}

export const doneWords: Record<EntryDone, string> = {
  changed: 'Changed',
  added: 'Added',
  'taken out of use': 'Taken out of use',
  'taken up again': 'Taken up again',
  'back to starting values': 'Back to the starting values',
}

export const sortWords: Record<Check['sort'], { title: string; says: string }> = {
  look: { title: 'A look', says: 'Answered with eye, ear, nose or hand, by one of its answers.' },
  measured: { title: 'A measurement', says: 'A value with a tool, held against a limit.' },
  number: { title: 'A number', says: 'A count, a distance or an age, noted down.' },
  code: { title: 'When it was last done', says: 'A year, a year and month, or not known.' },
}

export const placeWords: Record<ShortPlace, string> = {
  papers: 'At the papers',
  cylinders: 'At the cylinders',
  left: 'On the left side',
  right: 'On the right side',
  tank: 'At the tank',
  saddle: 'In the saddle',
  engine: 'With the engine running',
  lamps: 'At the lamps',
  meter: 'With the meter',
}

/** Fields of the forms by their name, without the number of a row. */
const fieldWords: Readonly<Record<string, string>> = {
  title: 'Title',
  round: 'Round',
  how: 'How it is done',
  needs: 'What it needs',
  minutes: 'Minutes',
  standAt: 'Where one stands for it',
  short: 'In the short round',
  staleAfterDays: 'Asked for again after, in days',
  safety: 'Judged with care',
  cautions: 'Cautions',
  appliesTo: 'Only for',
  'limit.min': 'Limit: at least',
  'limit.max': 'Limit: at most',
  'limit.asNew': 'As new',
  'saleLine.min': 'Sale line: at least',
  'saleLine.max': 'Sale line: at most',
  'plausible.min': 'Lowest that can be read',
  'plausible.max': 'Highest that can be read',
  unitWord: 'What is counted',
  overYears: 'Due after, in years',
  'answers.key': 'Answer',
  'answers.label': 'Answer',
  'answers.tone': 'What the answer says',
  'raises.when': 'Where this happens',
  'raises.than': 'Figure',
  'raises.effect': 'It raises',
  means: 'What it means',
  call: 'Call',
  locks: 'Shuts',
  clearedBy: 'Opened by',
  jobs: 'Job',
  'causes.job': 'Cause',
  'causes.share': 'Share, %',
  diagnosis: 'Found out by',
  noJobBecause: 'Why no job cures it',
  rechecks: 'Checked again by',
  'hidden.kept': 'Hidden, well kept, %',
  'hidden.average': 'Hidden, average, %',
  'hidden.neglected': 'Hidden, neglected, %',
  saleOff: 'Off the sale price where it is left',
  slowerDays: 'Days longer for sale where it is left',
  'hours.low': 'Hours, low',
  'hours.likely': 'Hours, likely',
  'hours.high': 'Hours, high',
  'outsideWork.low': 'Outside, low',
  'outsideWork.likely': 'Outside, likely',
  'outsideWork.high': 'Outside, high',
  operations: 'Shared operation',
  fasteners: 'Slowed by stuck fasteners',
  'parts.name': 'Part',
  'parts.qty': 'How many',
  'parts.unitCost.low': 'Price, low',
  'parts.unitCost.likely': 'Price, likely',
  'parts.unitCost.high': 'Price, high',
}

/** `jobs.1` is "Job 2", `limit.min` is "Limit: at least". */
export function fieldWord(field: string): string {
  const [, row] = /\.(\d+)(\.|$)/.exec(field) ?? []
  const plain = field.replace(/\[\]$/, '').replace(/\.\d+(?=\.|$)/, '')
  const word = fieldWords[plain] ?? plain
  return row === undefined ? word : `${word} ${Number(row) + 1}`
}

export const addWords: Record<EntryKind, string> = {
  check: 'Add a check',
  fault: 'Add a fault',
  job: 'Add a job',
  operation: 'Add an operation',
}
