import { describe, expect, it } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import type { Catalogue, Check, Fault } from '../../lib/core/checks/catalogue'
import {
  checkInput,
  checkInputs,
  faultInput,
  jobInput,
  operationInput,
} from '../../lib/core/checks/catalogue.input'
import { catalogueProblems, namedBy } from '../../lib/core/checks/catalogue-problems'

const inputs = { checks: checkInput, faults: faultInput, jobs: jobInput, operations: operationInput } as const

describe('the schemas of the catalogue', () => {
  it.each(Object.keys(inputs) as (keyof typeof inputs)[])(
    'let every starting entry of %s through unchanged',
    (table) => {
      for (const entry of startingCatalogue[table]) {
        const read = inputs[table].safeParse(entry)
        expect(read.error?.issues, entry.key).toBeUndefined()
        expect(read.data).toStrictEqual(entry)
      }
    },
  )

  it('let every starting check through by its sort as well', () => {
    for (const check of startingCatalogue.checks)
      expect(checkInputs[check.sort].safeParse(check).error?.issues, check.key).toBeUndefined()
  })

  const check = startingCatalogue.checks[0]!
  const fault = startingCatalogue.faults[0]!
  const job = startingCatalogue.jobs[0]!
  it.each([
    ['a key with capitals', checkInput, { ...check, key: 'Fuel' }],
    ['a field nobody knows', checkInput, { ...check, colour: 'red' }],
    ['minutes of nothing', checkInput, { ...check, minutes: 0 }],
    ['a chance over one', faultInput, { ...fault, hidden: { kept: 0, average: 0.5, neglected: 1.5 } }],
    ['a call nobody knows', faultInput, { ...fault, call: 'maybe' }],
    ['hours that fall', jobInput, { ...job, hours: { low: 2, likely: 1, high: 3 } }],
    ['half a penny', jobInput, { ...job, outsideWork: 0.5 }],
    ['hours that are no number', operationInput, { key: 'x', title: 'X', hours: Number.NaN }],
    ['an unreadable character', operationInput, { key: 'x', title: 'X\u0000', hours: 1 }],
  ])('refuse %s', (_what, input, value) => {
    expect(input.safeParse(value).success).toBe(false)
  })
})

describe('what is wrong in a catalogue', () => {
  it('is nothing in the starting one', () => {
    expect(catalogueProblems(startingCatalogue)).toEqual([])
  })

  const look: Check = {
    key: 'own-look',
    sort: 'look',
    round: 'cold',
    title: 'A look',
    how: ['Look.'],
    needs: [],
    minutes: 1,
    answers: [
      { key: 'good', label: 'Good', tone: 'good' },
      { key: 'bad', label: 'Bad', tone: 'bad' },
    ],
    raises: [{ when: { on: 'answer', answer: 'bad' }, fault: 'own-fault' }],
    source: { kind: 'shop', says: 'set by this shop' },
  }
  const fault: Fault = {
    key: 'own-fault',
    title: 'A fault',
    means: 'It is bad.',
    call: 'must',
    jobs: ['mend'],
    rechecks: ['own-look'],
    source: look.source,
  }
  const job = { key: 'mend', title: 'Mended', operations: ['off'], hours: 1, parts: [], source: look.source }
  const other = { ...job, key: 'other', title: 'Other', operations: [] }
  const small: Catalogue = {
    checks: [look],
    faults: [fault],
    jobs: [job, other],
    operations: [
      { key: 'off', title: 'Off', hours: 1, needs: ['open'] },
      { key: 'open', title: 'Open', hours: 1 },
    ],
    cautions: [],
  }
  const withFault = (over: Partial<Fault>): Catalogue => ({ ...small, faults: [{ ...fault, ...over }] })
  const withCheck = (over: Partial<Check>): Catalogue => ({
    ...small,
    checks: [{ ...look, ...over } as Check],
  })

  it('is nothing in a small whole one', () => {
    expect(catalogueProblems(small)).toEqual([])
  })

  const broken: [string, Catalogue, string, string][] = [
    ['a job that is not there', withFault({ jobs: ['gone'] }), 'fault', 'jobs'],
    ['a recheck that is not there', withFault({ rechecks: ['gone'] }), 'fault', 'rechecks'],
    ['no recheck', withFault({ rechecks: [] }), 'fault', 'rechecks'],
    ['no job and no reason', withFault({ jobs: [] }), 'fault', 'jobs'],
    ['a job and a reason for none', withFault({ noJobBecause: 'None does.' }), 'fault', 'noJobBecause'],
    ['a stop that shuts nothing', withFault({ call: 'stop', clearedBy: 'job' }), 'fault', 'locks'],
    ['a stop that nothing opens', withFault({ call: 'stop', locks: ['road'] }), 'fault', 'clearedBy'],
    ['a must that shuts a round', withFault({ locks: ['road'] }), 'fault', 'locks'],
    [
      'shares that are not a whole',
      withFault({
        jobs: [],
        causes: [
          { job: 'mend', share: 0.5 },
          { job: 'other', share: 0.4 },
        ],
      }),
      'fault',
      'causes',
    ],
    ['a single cause', withFault({ jobs: [], causes: [{ job: 'mend', share: 1 }] }), 'fault', 'causes'],
    ['a search without causes', withFault({ diagnosis: 'mend' }), 'fault', 'diagnosis'],
    [
      'a fault that hides less where less care was taken',
      withFault({ hidden: { kept: 0.3, average: 0.2, neglected: 0.4 } }),
      'fault',
      'hidden',
    ],
    ['a bad answer without effect', withCheck({ raises: [] }), 'check', 'answers.1'],
    [
      'an effect of an answer that is not there',
      withCheck({ raises: [...look.raises, { when: { on: 'answer', answer: 'gone' }, fault: 'own-fault' }] }),
      'check',
      'raises.1',
    ],
    [
      'an effect that cannot happen',
      withCheck({ raises: [...look.raises, { when: { on: 'above-limit' }, fault: 'own-fault' }] }),
      'check',
      'raises.1',
    ],
    [
      'a cause that the fault has not',
      withCheck({
        raises: [
          ...look.raises,
          { when: { on: 'answer', answer: 'bad' }, settles: { fault: 'own-fault', cause: 'mend' } },
        ],
      }),
      'check',
      'raises.1',
    ],
    [
      'operations that need each other',
      { ...small, operations: [small.operations[0]!, { ...small.operations[1]!, needs: ['off'] }] },
      'operation',
      'needs',
    ],
    ['a key used twice', { ...small, jobs: [job, other, job] }, 'job', 'key'],
  ]
  it.each(broken)('%s', (_what, catalogue, kind, field) => {
    const problems = catalogueProblems(catalogue)
    expect(problems.length).toBeGreaterThan(0)
    for (const problem of problems) expect(problem).toMatchObject({ kind, field })
  })

  it('says who names an entry', () => {
    expect(namedBy(small, { kind: 'operation', key: 'open' }).map(({ key }) => key)).toEqual(['off'])
    expect(namedBy(small, { kind: 'check', key: 'own-look' }).map(({ title }) => title)).toEqual(['A fault'])
    expect(namedBy(small, { kind: 'job', key: 'other' })).toEqual([])
  })
})
