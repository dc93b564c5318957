import { describe, expect, it, test } from 'vitest'
import { calcHere, calcStarted, start } from '../support/calc-command'
import { byNotes, noted } from '../support/noted-prices'

const reading = {
  readings: [4.47, 4.46, 4.5],
  unit: 'mm',
  limit: { min: 4.5, asNew: 5, unit: 'mm' },
  judgedOn: 'lowest',
  instrument: { resolution: 0.01, unit: 'mm', standardUncertainty: 0.004 },
  rule: 'guarded',
}
const sale = { scheme: 'margin', rate: 0.2, purchase: 150000, sale: 220000, repairs: 30000 }

const names = [
  'verdict',
  'tyre-date',
  'tyre-size',
  'vin',
  'battery',
  'specific-gravity',
  'estimate',
  'scope',
  'tax',
  'deal',
  'next-check',
  'sale-price',
  'plan',
]

describe('one document', () => {
  test.each<[string, object, object]>([
    ['verdict', reading, { value: 4.46, verdict: 'outside', worstIndex: 1 }],
    ['tyre-date', { code: '0301', asOf: '2026-11-25' }, { from: '2001-01-21', ageYears: 25.8 }],
    ['tyre-size', { marking: '190/50 ZR17 M/C (73W)' }, { widthMm: 190, sideWallMm: 95, load: { kg: 365 } }],
    ['scope', { jobs: [{ key: 'polish', uplift: 900, cost: 400 }] }, { chosen: ['polish'], value: 500 }],
    [
      'next-check',
      {
        deal: {
          sale: 100_000,
          estimate: { labourRate: 0, jobs: [{ key: 'tank', outsideWork: 30_000, chance: 0.25 }] },
          tax: { scheme: 'none' },
          rule: { kind: 'average', targetMargin: 0, maxChanceOfLoss: 1 },
          asking: 90_000,
        },
        priceShare: 0.5,
        open: [{ key: 'inside', jobs: ['tank'], minutes: 4 }],
      },
      { order: [{ key: 'inside', value: 8750, ifFound: { walkAway: 70_000 } }] },
    ],
    ['specific-gravity', { readings: [1.265, 1.26], temperatureC: 26 }, { lowestIndex: 1, evenness: 'even' }],
    [
      'vin',
      { vin: '1FACP45EXLF192944', claimedYear: 1990, asOf: '2026-11-25' },
      { modelYears: [1990, 2020] },
    ],
    [
      'battery',
      { restVolts: 12.45, restHours: 3, temperatureC: 15, chemistry: 'flooded' },
      { stateOfCharge: { low: 0.65, likely: 0.75, high: 0.85 } },
    ],
    [
      'estimate',
      { labourRate: 5000, jobs: [{ key: 'chain', hours: 2, chance: 0.5 }] },
      { cost: { mean: 5000 }, method: 'exact' },
    ],
    [
      'deal',
      {
        sale: 100000,
        estimate: { labourRate: 5000, jobs: [] },
        tax: { scheme: 'none' },
        rule: { kind: 'average', targetMargin: 20000, maxChanceOfLoss: 0.1 },
      },
      { walkAway: 80000, atAsking: null },
    ],
    [
      'sale-price',
      byNotes([noted(200_000)]),
      { sale: { likely: 200_000 }, effective: 1, season: { month: 8 } },
    ],
    [
      'plan',
      { objective: 'makespan', bikes: [{ id: 'A', tasks: [{ id: 'cure', duration: 24 }] }] },
      { starts: { cure: 0 }, ready: { A: 24 }, objective: 24, lowerBound: 24 },
    ],
    ['tax', sale, { tax: 11667, grossMargin: 70000, margin: 28333 }],
  ])('%s answers with JSON alone', async (name, input, expected) => {
    const run = await calcHere([name], JSON.stringify(input))
    expect(run).toMatchObject({ status: 0, err: '' })
    expect(JSON.parse(run.out)).toMatchObject(expected)
  })

  it('answers the same from a process of its own, good and bad', async () => {
    const good = JSON.stringify(sale)
    const bad = JSON.stringify({ ...sale, purchaseTax: 1 })
    expect(await calcStarted(['tax'], good)).toEqual(await calcHere(['tax'], good))
    const refused = await calcStarted(['tax'], bad)
    expect(refused).toEqual(await calcHere(['tax'], bad))
    expect(refused.status).toBe(2)
  })

  it('goes through npm without a word of its own', async () => {
    const run = await start('npm', ['run', '-s', 'calc', '--', 'tax'], `\n${JSON.stringify(sale, null, 2)}\n`)
    expect(run).toEqual({ status: 0, err: '', out: '{"tax":11667,"grossMargin":70000,"margin":28333}\n' })
  })

  it('takes the day of today where none is given', async () => {
    const year = new Date().getFullYear()
    const run = await calcStarted(['tyre-date'], JSON.stringify({ code: `01${String(year + 2).slice(2)}` }))
    expect(run.status).toBe(2)
    expect(JSON.parse(run.err).error).toContain('from after')
    expect((await calcStarted(['tyre-date'], '{"code":"0301"}')).status).toBe(0)
  })
})

describe('bad input leaves standard output empty and says one error', () => {
  const cases: [string, string, string, (string | number)[]][] = [
    ['no JSON', 'tax', '{"scheme":', []],
    ['nothing', 'tax', ' \n', []],
    ['a list', 'tax', '[1]', []],
    ['a control character', 'tax', '\u0000', []],
    ['a missing key', 'tax', '{"scheme":"none","sale":2}', ['purchase']],
    ['an unknown key', 'tax', JSON.stringify({ ...sale, salePrice: 1 }), ['salePrice']],
    [
      'a mistyped key before the one it leaves missing',
      'tax',
      '{"scheme":"none","sale":2,"purchse":1}',
      ['purchse'],
    ],
    ['a key of the language', 'tax', '{"scheme":"none","sale":2,"purchase":1,"__proto__":{}}', ['__proto__']],
    ['a deep key', 'verdict', JSON.stringify({ ...reading, readings: [4.5, 'x'] }), ['readings', 1]],
    [
      'an unknown deep key',
      'verdict',
      JSON.stringify({ ...reading, limit: { ...reading.limit, mx: 1 } }),
      ['limit', 'mx'],
    ],
    ['a number without end', 'verdict', JSON.stringify(reading).replace('4.47', '1e999'), ['readings', 0]],
    ['no readings', 'verdict', JSON.stringify({ ...reading, readings: [] }), ['readings']],
    [
      'units that do not go together',
      'verdict',
      JSON.stringify({ ...reading, unit: 'V' }),
      ['limit', 'unit'],
    ],
    ['a rule of the trade', 'tax', JSON.stringify({ ...sale, purchaseTax: 1 }), ['scheme']],
    ['a week that is none', 'tyre-date', '{"code":"0022"}', ['code']],
    ['a letter that is none', 'vin', '{"vin":"1FACP45EXLF19294O"}', ['vin']],
  ]

  test.each(cases)('%s', async (_, name, stdin, path) => {
    const run = await calcHere([name], stdin)
    expect(run).toMatchObject({ status: 2, out: '' })
    expect(run.err.trim().split('\n')).toHaveLength(1)
    expect(JSON.parse(run.err)).toEqual({
      error: expect.stringMatching(/\w/),
      path,
      hint: expect.stringMatching(/\w/),
    })
  })

  test.each([
    [['no-such'], /verdict/],
    [['constructor'], /verdict/],
    [[], /verdict/],
    [['tax', '--loud'], /--lines/],
    [['tax', 'vin'], /verdict/],
    [['tax', '--lines', '--schema'], /one of them/],
  ])('the words %j', async (args, hint) => {
    const run = await calcHere(args, '{}')
    expect(run).toMatchObject({ status: 2, out: '' })
    expect(JSON.parse(run.err)).toMatchObject({ path: [], hint: expect.stringMatching(hint) })
  })
})

describe('a document a line', () => {
  it('answers each in its place, skips empty lines and tells of a bad one at the end', async () => {
    const lines = [
      '{"code":"0301","asOf":"2026-11-25"}',
      '',
      ' \r',
      '{"code":"0022"}',
      'nope',
      '{"code":"2109"}',
    ]
    const run = await calcHere(['tyre-date', '--lines'], lines.join('\n'))
    const answers = run.out
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line))
    expect(run).toMatchObject({ status: 2, err: '' })
    expect(answers).toMatchObject([{ year: 2001 }, { path: ['code'] }, { path: [] }, { year: 2009 }])
  })

  it('answers very many without losing one', async () => {
    // Several times what a pipe holds.
    const count = 8_000
    const lines = Array.from({ length: count }, (_, index) =>
      JSON.stringify({ scheme: 'none', purchase: index, sale: 2 * index }),
    )
    const run = await calcStarted(['tax', '--lines'], lines.join('\n'))
    expect(run.status).toBe(0)
    const margins = run.out
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line).margin)
    expect(margins).toEqual(Array.from({ length: count }, (_, index) => index))
  })
})

describe('what it can tell of itself', () => {
  it('--help lists the names, each in a line', async () => {
    const run = await calcHere(['--help'])
    expect(run).toMatchObject({ status: 0, err: '' })
    for (const name of names) expect(run.out).toMatch(new RegExp(`^ +${name} +\\S`, 'm'))
  })

  test.each(names)('%s --schema is the JSON Schema of what it reads', async (name) => {
    const run = await calcHere([name, '--schema'])
    expect(run).toMatchObject({ status: 0, err: '' })
    expect(JSON.parse(run.out)).toMatchObject({ type: 'object', additionalProperties: false })
  })
})
