import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  type IdentityWord,
  identityAnswers,
  identityPoints,
  moneyGate,
  type RegisterWord,
  registerAnswers,
  registers,
} from '../../lib/core/checks/money-gate'

const allClear: RegisterWord[] = registers.map((register) => ({
  register,
  answer: 'clear',
  amountMinor: null,
}))
const allSeen: IdentityWord[] = [
  { point: 'seller-identity', answer: 'seen' },
  { point: 'right-to-sell', answer: 'keeper-and-payee' },
  { point: 'frame-number', answer: 'same' },
  { point: 'keys', answer: 'counted' },
]
const withRegister = (over: Partial<RegisterWord> & Pick<RegisterWord, 'register'>) =>
  allClear.map((word) => (word.register === over.register ? { ...word, ...over } : word))
const withPoint = (point: IdentityWord['point'], answer: string) => [
  ...allSeen.filter((word) => word.point !== point),
  { point, answer },
]
const lacks = (registers: RegisterWord[], identity: IdentityWord[]) =>
  moneyGate({ registers, identity }).map(({ about, never }) => (never ? `${about}: never` : about))

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
      [{ register: 'stolen', answer: 'recorded', amountMinor: null } as const, ...allClear],
      allSeen,
      ['stolen: never'],
    ],
    [
      'altered, then the same',
      allClear,
      [{ point: 'frame-number', answer: 'altered' } as const, ...allSeen],
      ['frame-number: never'],
    ],
    [
      'asked without an answer, then clear',
      [{ register: 'recall', answer: 'no-answer', amountMinor: null } as const, ...allClear],
      allSeen,
      [],
    ],
    [
      'clear, then no answer',
      [...allClear, { register: 'recall', answer: 'no-answer', amountMinor: null } as const],
      allSeen,
      ['recall'],
    ],
  ])('of several words the latest counts, but what is final stays: %s', (_, asked, seen, expected) => {
    expect(lacks(asked, seen)).toEqual(expected)
  })

  it('a register and a point of one name are told apart', () => {
    const financed = withRegister({ register: 'finance', answer: 'recorded', amountMinor: 1 })
    expect(moneyGate({ registers: financed, identity: allSeen }).map(({ of }) => of)).toEqual(['point'])
    expect(
      moneyGate({ registers: [], identity: [] }).filter(({ about }) => about === 'finance'),
    ).toMatchObject([{ of: 'register' }])
  })

  it('nothing said elsewhere opens it while the frame number is altered or the bike is stolen', () => {
    const anyRegisters = fc.tuple(
      ...registers.map((register) =>
        fc.constantFrom(...registerAnswers).map((answer) => ({ register, answer, amountMinor: null })),
      ),
    )
    const anyPoints = fc.tuple(
      ...identityPoints.map((point) =>
        fc.constantFrom(...Object.keys(identityAnswers[point])).map((answer) => ({ point, answer })),
      ),
    )
    fc.assert(
      fc.property(anyRegisters, anyPoints, (asked, seen) => {
        const forbidden =
          seen.some(({ answer }) => answer === 'altered') ||
          asked.some(({ register, answer }) => register === 'stolen' && answer === 'recorded')
        fc.pre(forbidden)
        expect(moneyGate({ registers: asked, identity: seen }).some(({ never }) => never)).toBe(true)
      }),
    )
  })
})
