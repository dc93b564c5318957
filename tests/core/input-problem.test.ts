import { describe, expect, it, test } from 'vitest'
import { z } from 'zod'
import { problemOf } from '../../lib/desk/input-problem'

const threePoint = z.union([
  z.number(),
  z.strictObject({ low: z.number(), likely: z.number(), high: z.number() }),
])
const schema = z.strictObject({
  jobs: z.array(
    z.strictObject({
      hours: threePoint.optional(),
      chance: z.union([z.number().min(0).max(1), z.record(z.string(), z.number())]).default(1),
    }),
  ),
  names: z.record(z.string().min(1), z.strictObject({ hours: z.number() })).default({}),
  rule: z
    .discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('average'), target: z.int() }),
      z.strictObject({ kind: z.literal('confidence'), confidence: z.number() }),
    ])
    .optional(),
})

function problem(document: unknown) {
  const parsed = schema.safeParse(document)
  if (parsed.success) throw new Error('this was accepted')
  return problemOf(parsed.error, document)
}

describe('the path leads to the deepest offending key', () => {
  test.each<[string, unknown, (string | number)[]]>([
    [
      'inside the form of a union that was meant',
      { jobs: [{ hours: { low: 1, likely: 'x', high: 3 } }] },
      ['jobs', 0, 'hours', 'likely'],
    ],
    ['a key that lacks there', { jobs: [{ hours: { low: 1, likely: 2 } }] }, ['jobs', 0, 'hours', 'high']],
    [
      'a key that is too much there',
      { jobs: [{ hours: { low: 1, likely: 2, high: 3, top: 4 } }] },
      ['jobs', 0, 'hours', 'top'],
    ],
    ['neither form', { jobs: [{ hours: 'two' }] }, ['jobs', 0, 'hours']],
    ['a number of the right form but too large', { jobs: [{ chance: 1.5 }] }, ['jobs', 0, 'chance']],
    ['a value by a free key', { jobs: [{ chance: { kept: 'x' } }] }, ['jobs', 0, 'chance', 'kept']],
    ['a free key itself', { jobs: [], names: { '': { hours: 1 } } }, ['names', '']],
    ['an unknown kind', { jobs: [], rule: { kind: 'best' } }, ['rule', 'kind']],
    ['no kind', { jobs: [], rule: {} }, ['rule', 'kind']],
    ['a key of the other kind', { jobs: [], rule: { kind: 'confidence', target: 1 } }, ['rule', 'target']],
    ['part of a whole number', { jobs: [], rule: { kind: 'average', target: 1.5 } }, ['rule', 'target']],
    [
      'the deeper of two',
      { jobs: [{ hours: { low: 'x', likely: 2, high: 3 } }], extra: 1 },
      ['jobs', 0, 'hours', 'low'],
    ],
    ['the document', null, []],
  ])('%s', (_, document, path) => {
    expect(problem(document).path).toEqual(path)
  })
})

describe('the words say what is wrong and what to do', () => {
  test.each<[unknown, RegExp, RegExp]>([
    [{}, /missing/, /Add it: a list/],
    [{ jobs: 3 }, /A list is needed here, not 3/, /Give a list/],
    [{ jobs: [{ hours: 'two' }] }, /A number or an object is needed here, not text/, /Give/],
    [{ jobs: [{ chance: 1.5 }] }, /at most 1/, /at most 1/],
    [{ jobs: [], rule: { kind: 'best' } }, /"best" is not possible/, /"average", "confidence"/],
    [{ jobs: [], rule: {} }, /missing/, /"average", "confidence"/],
    [
      { jobs: [], rule: { kind: 'average', target: 1.5 } },
      /whole number is needed here, not 1.5/,
      /whole number/,
    ],
    [{ jobs: [], oops: 1 }, /"oops" is not known/, /--schema/],
  ])('%j', (document, message, hint) => {
    expect(problem(document).message).toMatch(message)
    expect(problem(document).hint).toMatch(hint)
  })

  it('takes the hint of a rule that has its own', () => {
    const even = z.number().superRefine((value, context) => {
      if (value % 2) context.addIssue({ code: 'custom', message: 'It is odd.', params: { hint: 'Add one.' } })
    })
    const parsed = even.safeParse(3)
    expect(parsed.error && problemOf(parsed.error, 3)).toMatchObject({
      message: 'It is odd.',
      hint: 'Add one.',
      path: [],
    })
  })
})
