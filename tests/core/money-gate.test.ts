import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { type FrameReading, frameCheck, frameLook, slipMinutes } from '../../lib/core/checks/frame-looks'
import {
  type IdentityWord,
  identityAnswers,
  identityPoints,
  type MoneyWords,
  moneyGate,
  moneyStanding,
  type RegisterWord,
  registerAnswerDays,
  registerAnswers,
  registers,
} from '../../lib/core/checks/money-gate'
import { addDays } from '../../lib/core/quantity/days'

const today = '2026-11-25'
const at = '2026-11-25T12:00:00.000Z'
const noted = { day: today, at }
const unseen = { alteredAt: null, bad: null }

const allClear: RegisterWord[] = registers.map((register) => ({
  register,
  answer: 'clear',
  amountMinor: null,
  ...noted,
}))
const allSeen: IdentityWord[] = [
  { point: 'seller-identity', answer: 'seen', at },
  { point: 'right-to-sell', answer: 'keeper-and-payee', at },
  { point: 'frame-number', answer: 'same', at },
  { point: 'keys', answer: 'counted', at },
]
const withRegister = (over: Partial<RegisterWord> & Pick<RegisterWord, 'register'>) =>
  allClear.map((word) => (word.register === over.register ? { ...word, ...over } : word))
const withPoint = (point: IdentityWord['point'], answer: string) => [
  ...allSeen.filter((word) => word.point !== point),
  { point, answer, at },
]
const gate = (over: Partial<MoneyWords>) =>
  moneyGate({ registers: allClear, identity: allSeen, frame: unseen, today, ...over })
const lacks = (registers: RegisterWord[], identity: IdentityWord[]) =>
  gate({ registers, identity }).map(({ about, never }) => (never ? `${about}: never` : about))

describe('before a bike may be bought', () => {
  it('nothing lacks once every register is clear and everything was seen', () => {
    expect(lacks(allClear, allSeen)).toEqual([])
  })

  it('everything lacks at first', () => {
    expect(lacks([], [])).toEqual([...registers, 'seller-identity', 'right-to-sell', 'frame-number', 'keys'])
  })

  it.each([
    [
      'a stolen bike never',
      withRegister({ register: 'stolen', answer: 'recorded' }),
      allSeen,
      ['stolen: never'],
    ],
    [
      'a register without an answer',
      withRegister({ register: 'recall', answer: 'no-answer' }),
      allSeen,
      ['recall'],
    ],
    [
      'a write-off is told and bought',
      withRegister({ register: 'write-off', answer: 'recorded' }),
      allSeen,
      [],
    ],
    ['an altered number never', allClear, withPoint('frame-number', 'altered'), ['frame-number: never']],
    ['numbers that differ', allClear, withPoint('frame-number', 'differs'), ['frame-number']],
    ['a seller not seen', allClear, withPoint('seller-identity', 'not-seen'), ['seller-identity']],
  ] as const)('%s', (_, asked, seen, expected) => {
    expect(lacks([...asked], [...seen])).toEqual(expected)
  })

  it('finance on record opens only by paying the lender direct', () => {
    const financed = withRegister({ register: 'finance', answer: 'recorded', amountMinor: 214_000 })
    expect(lacks(financed, allSeen)).toEqual(['finance'])
    expect(lacks(financed, withPoint('finance', 'outstanding'))).toEqual(['finance'])
    expect(lacks(financed, withPoint('finance', 'none'))).toEqual(['finance'])
    expect(lacks(financed, withPoint('finance', 'lender-paid-direct'))).toEqual([])
  })

  it.each([
    [
      'stolen, then clear',
      [{ register: 'stolen', answer: 'recorded', amountMinor: null, ...noted } as const, ...allClear],
      allSeen,
      ['stolen: never'],
    ],
    [
      'altered, then the same',
      allClear,
      [{ point: 'frame-number', answer: 'altered', at } as const, ...allSeen],
      ['frame-number: never'],
    ],
    [
      'asked without an answer, then clear',
      [{ register: 'recall', answer: 'no-answer', amountMinor: null, ...noted } as const, ...allClear],
      allSeen,
      [],
    ],
    [
      'clear, then no answer',
      [...allClear, { register: 'recall', answer: 'no-answer', amountMinor: null, ...noted } as const],
      allSeen,
      ['recall'],
    ],
  ])('of several words the latest counts, but what is final stays: %s', (_, asked, seen, expected) => {
    expect(lacks(asked, seen)).toEqual(expected)
  })

  it.each([
    ['nothing is known', [], [], 'not yet'],
    ['one register is left to ask', allClear.slice(1), allSeen, 'not yet'],
    [
      'an answer is still to come',
      withRegister({ register: 'recall', answer: 'no-answer' }),
      allSeen,
      'not yet',
    ],
    [
      'finance is on record',
      withRegister({ register: 'finance', answer: 'recorded' }),
      allSeen,
      'not as it stands',
    ],
    [
      'finance is on record and most is still to ask',
      withRegister({ register: 'finance', answer: 'recorded' }).slice(0, 2),
      [],
      'not as it stands',
    ],
    ['the numbers differ', allClear, withPoint('frame-number', 'differs'), 'not as it stands'],
    ['the seller may not sell', allClear, withPoint('right-to-sell', 'unclear'), 'not as it stands'],
    ['the number is altered', [], [{ point: 'frame-number', answer: 'altered', at } as const], 'never'],
    ['everything is known and good', allClear, allSeen, 'open'],
  ] as const)('where %s', (_, registers, identity, standing) => {
    expect(moneyStanding(gate({ registers, identity }))).toBe(standing)
  })

  it('finance on record says the one way that settles it, whatever else was noted of it', () => {
    const registers = withRegister({ register: 'finance', answer: 'recorded', amountMinor: 214_000 })
    const said = [allSeen, withPoint('finance', 'outstanding'), withPoint('finance', 'none')].flatMap(
      (identity) => gate({ registers, identity }).map(({ says }) => says),
    )
    expect(new Set(said)).toEqual(
      new Set(['Finance is on record: only paying the lender direct, with the letter seen, settles it.']),
    )
    expect(said).toHaveLength(3)
  })

  it('a register and a point of one name are told apart', () => {
    const financed = withRegister({ register: 'finance', answer: 'recorded', amountMinor: 1 })
    expect(gate({ registers: financed }).map(({ of }) => of)).toEqual(['point'])
    expect(gate({ registers: [], identity: [] }).filter(({ about }) => about === 'finance')).toMatchObject([
      { of: 'register' },
    ])
  })

  it('nothing said elsewhere opens it while the frame number is altered or the bike is stolen', () => {
    const anyRegisters = fc.tuple(
      ...registers.map((register) =>
        fc
          .constantFrom(...registerAnswers)
          .map((answer) => ({ register, answer, amountMinor: null, ...noted })),
      ),
    )
    const anyPoints = fc.tuple(
      ...identityPoints.map((point) =>
        fc.constantFrom(...Object.keys(identityAnswers[point])).map((answer) => ({ point, answer, at })),
      ),
    )
    fc.assert(
      fc.property(anyRegisters, anyPoints, fc.constantFrom(null, at), (asked, seen, alteredAt) => {
        const forbidden =
          alteredAt !== null ||
          seen.some(({ answer }) => answer === 'altered') ||
          asked.some(({ register, answer }) => register === 'stolen' && answer === 'recorded')
        fc.pre(forbidden)
        expect(
          gate({ registers: asked, identity: seen, frame: { alteredAt, bad: null } }).some(
            ({ never }) => never,
          ),
        ).toBe(true)
      }),
    )
  })
})

describe('an answer of a register grows old', () => {
  const askedOn = (day: string, answer: RegisterWord['answer'] = 'clear') =>
    gate({ registers: withRegister({ register: 'recall', day, answer }) }).map(({ says }) => says)

  it.each([0, 1, registerAnswerDays])('and counts on day %i', (days) => {
    expect(askedOn(addDays(today, -days))).toEqual([])
  })

  it('and is asked for again after so many days, whatever it was', () => {
    const says = ['Register of recalls: asked 12 days ago. Ask again before paying.']
    expect(askedOn('2026-11-13')).toEqual(says)
    expect(askedOn('2026-11-13', 'recorded')).toEqual(says)
    expect(askedOn(addDays(today, -registerAnswerDays - 1))).toHaveLength(1)
  })

  it('but for stolen, which stays', () => {
    const registers = withRegister({ register: 'stolen', answer: 'recorded', day: '2020-01-01' })
    expect(gate({ registers })).toMatchObject([{ about: 'stolen', never: true }])
  })

  it('and a later one takes its place', () => {
    const old = allClear.map((word) => ({ ...word, day: '2026-01-01' }))
    expect(gate({ registers: old }).map(({ about }) => about)).toEqual([...registers])
    expect(gate({ registers: [...old, ...allClear] })).toEqual([])
  })
})

describe('that the lender was paid', () => {
  const financeOn = (instant: string): RegisterWord => ({
    ...{ register: 'finance', answer: 'recorded', amountMinor: 214_000, day: today },
    at: instant,
  })
  const paidAt = (instant: string) => [
    ...allSeen,
    { point: 'finance', answer: 'lender-paid-direct', at: instant } as const,
  ]
  const [morning, noon, evening] = ['T09:00:00.000Z', 'T12:00:00.000Z', 'T18:00:00.000Z'].map(
    (time) => today + time,
  ) as [string, string, string]

  it.each([
    ['covers what was on record before it', [financeOn(morning)], paidAt(noon), []],
    ['does not cover what came on record after it', [financeOn(evening)], paidAt(noon), ['finance']],
    [
      'does not cover that it is still on record when asked again',
      [financeOn(morning), financeOn(evening)],
      paidAt(noon),
      ['finance'],
    ],
    [
      'covers it again once it is noted again',
      [financeOn(noon)],
      [...paidAt(morning), ...paidAt(evening)],
      [],
    ],
  ] as const)('%s', (_, finance, identity, expected) => {
    const registers = [...allClear.filter(({ register }) => register !== 'finance'), ...finance]
    expect(gate({ registers, identity }).map(({ about }) => about)).toEqual(expected)
  })

  it('is told to be noted again, not to be noted', () => {
    const registers = [...allClear, financeOn(evening)]
    expect(gate({ registers, identity: paidAt(noon) })[0]?.says).toContain('note it again')
  })

  it('is needed no more when the register is clear of it', () => {
    const registers = [financeOn(evening), ...allClear]
    expect(gate({ registers, identity: paidAt(noon) })).toEqual([])
  })
})

describe('the frame number of the check sheet', () => {
  const check = startingCatalogue.checks.find(({ key }) => key === frameCheck.key)!
  const minutesIn = (minutes: number) => new Date(Date.parse(at) + minutes * 60_000).toISOString()
  const read = (id: string, value: string, over: Partial<FrameReading> = {}): FrameReading => ({
    ...{ id, check: frameCheck.key, position: null, kind: 'answer', value, unit: null, conditions: [] },
    ...{ instrument: null, takenAt: at, supersedes: null, person: 'Tove' },
    ...over,
  })
  const lackOf = (...readings: FrameReading[]) =>
    gate({ frame: frameLook({ readings, check }) }).map(({ about, never }) => `${about}: ${never}`)

  it('is looked at by a check of the catalogue that can say it is altered, and has one good answer', () => {
    if (check.sort !== 'look') throw new Error('The frame number is looked at.')
    expect(check.answers.find(({ key }) => key === frameCheck.final)?.tone).toBe('bad')
    expect(check.answers.filter(({ tone }) => tone === 'good')).toHaveLength(1)
  })

  it.each([
    ['nobody looked', [], []],
    ['it is the same', [read('a', 'same')], []],
    ['it is altered', [read('a', 'altered')], ['frame-number: true']],
    [
      'it is altered, then the same at another look',
      [read('a', 'altered'), read('b', 'same', { takenAt: minutesIn(2) })],
      ['frame-number: true'],
    ],
    [
      'a slip is set right at once by who made it',
      [read('a', 'altered'), read('b', 'same', { takenAt: minutesIn(1), supersedes: 'a' })],
      [],
    ],
    [
      'a slip is taken back at once by who made it',
      [
        read('a', 'altered'),
        read('b', 'a slip', { kind: 'withdrawn', takenAt: minutesIn(slipMinutes), supersedes: 'a' }),
      ],
      [],
    ],
    [
      'it is corrected later',
      [read('a', 'altered'), read('b', 'same', { takenAt: minutesIn(slipMinutes + 1), supersedes: 'a' })],
      ['frame-number: true'],
    ],
    [
      'it is corrected by somebody else',
      [read('a', 'altered'), read('b', 'same', { takenAt: minutesIn(1), supersedes: 'a', person: 'Dele' })],
      ['frame-number: true'],
    ],
    [
      'a correction of a correction says altered',
      [
        read('a', 'altered'),
        read('b', 'altered', { takenAt: minutesIn(1), supersedes: 'a' }),
        read('c', 'same', { takenAt: minutesIn(30), supersedes: 'b' }),
      ],
      ['frame-number: true'],
    ],
    ['another check says altered', [read('a', 'altered', { check: 'engine-number' })], []],
    [
      'it was hard to read after it was noted as the same',
      [read('a', 'unread', { takenAt: minutesIn(5) })],
      ['frame-number: false'],
    ],
    ['it was hard to read before', [read('a', 'unread', { takenAt: minutesIn(-5) })], []],
    [
      'it was hard to read and then not',
      [read('a', 'unread', { takenAt: minutesIn(5) }), read('b', 'same', { takenAt: minutesIn(6) })],
      [],
    ],
    ['it was left out', [read('a', 'no torch', { kind: 'skipped', takenAt: minutesIn(5) })], []],
  ] as [string, FrameReading[], string[]][])('%s', (_, readings, expected) => {
    expect(lackOf(...readings)).toEqual(expected)
    // In whatever order they arrive.
    expect(lackOf(...readings.toReversed())).toEqual(expected)
  })

  it('counts as altered where the shop has taken the check out of use since', () => {
    expect(frameLook({ readings: [read('a', 'altered')], check: null }).alteredAt).toBe(at)
  })

  it('is told once where both say it is altered', () => {
    const frame = frameLook({ readings: [read('a', 'altered')], check })
    const says = gate({ frame, identity: withPoint('frame-number', 'altered') })
    expect(says).toMatchObject([{ about: 'frame-number', never: true }])
    expect(gate({ frame, identity: [] }).filter(({ about }) => about === 'frame-number')).toHaveLength(1)
  })
})
