import { describe, expect, it } from 'vitest'
import { careSigns } from '../../lib/catalogue/care-signs'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { startingFigures } from '../../lib/core/board/starting-figures'
import { careOf, reweighed } from '../../lib/core/checks/care-signs'
import { careStates } from '../../lib/core/checks/catalogue'
import { meanChance, timesOdds } from '../../lib/core/checks/chance'
import { deriveFaults } from '../../lib/core/checks/faults'
import {
  ageBandOf,
  ageOfBike,
  chanceSays,
  type HiddenTerms,
  hiddenChanceOf,
  hiddenTermsOf,
  saysRefused,
  sellerRefused,
} from '../../lib/core/checks/hidden'
import { learnedFrom } from '../../lib/core/checks/learned'
import { type BikeLooked, countLooks, routineLooks } from '../../lib/core/checks/learned-looks'
import type { Reading } from '../../lib/core/checks/reading'
import { anyBike, smallCatalogue } from '../support/small-catalogue'
import { judgements, reading } from '../support/small-readings'

const terms = {
  ...hiddenTermsOf(startingFigures),
  ageOdds: { slow: [0.7, 1, 1.3, 1.6], fast: [0.4, 1, 1.8, 2.5] },
}
const { care } = startingFigures
const fault = {
  key: 'tank-rust',
  hidden: { kept: 0.03, average: 0.15, neglected: 0.45 },
  ages: 'fast',
} as const
const known = { fault, nonRunner: false, ageYears: null, refused: null, terms }
const cold = { check: 'cold-start', title: 'Cold start' }

describe('a hidden chance', () => {
  it('is the catalogue’s where nothing is known of age and nobody refused', () => {
    expect(hiddenChanceOf(known).chance).toEqual(fault.hidden)
    expect(hiddenChanceOf({ ...known, terms: null, ageYears: 35 }).chance).toEqual(fault.hidden)
  })

  it('has its odds times the factor of age: 15 % at 28 years is 0.15·1.8/(0.85 + 0.15·1.8)', () => {
    const { chance } = hiddenChanceOf({ ...known, ageYears: 28 })
    expect(chance).toMatchObject({ average: expect.closeTo(0.27 / 1.12, 12) })
    expect(hiddenChanceOf({ ...known, ageYears: 15 }).chance).toEqual(fault.hidden)
    expect(meanChance(hiddenChanceOf({ ...known, ageYears: 3 }).chance, care)).toBeLessThan(
      meanChance(fault.hidden, care),
    )
  })

  it('does not grow with age where the catalogue does not say so', () => {
    const { ages: _, ...ageless } = fault
    expect(hiddenChanceOf({ ...known, fault: ageless, ageYears: 40 }).chance).toEqual(fault.hidden)
  })

  it('has its odds doubled by a refusal', () => {
    const { chance } = hiddenChanceOf({ ...known, refused: cold })
    expect(chance).toMatchObject({ average: expect.closeTo(0.3 / 1.15, 12) })
  })

  it('of a bike that does not run begins with its own', () => {
    const other = { ...fault, nonRunner: { kept: 0.1, average: 0.2, neglected: 0.5 } }
    expect(hiddenChanceOf({ ...known, fault: other, nonRunner: true }).chance).toEqual(other.nonRunner)
  })

  it('learned from 9 of 31 bikes has the mean (20·q + 9)/51, and keeps the ratios of odds', () => {
    const learned = { 'tank-rust': { found: 9, looked: 31, until: '2026-11-25' } }
    const { chance } = hiddenChanceOf({ ...known, terms: { ...terms, learned } })
    const before = meanChance(fault.hidden, care)
    expect(meanChance(chance, care)).toBeCloseTo((20 * before + 9) / 51, 12)
    const odds = (q: number) => q / (1 - q)
    if (typeof chance === 'number') throw new Error('it has a chance by care state')
    const ratios = careStates.map((state) => odds(chance[state]) / odds(fault.hidden[state]))
    expect(ratios).toEqual(ratios.map(() => expect.closeTo(ratios[0]!, 9)))
  })

  it('says in words how it came about', () => {
    const learned = { 'tank-rust': { found: 9, looked: 31, until: '2026-11-25' } }
    const { because } = hiddenChanceOf({
      ...known,
      ageYears: 28,
      refused: cold,
      terms: { ...terms, learned },
    })
    expect(chanceSays(because)).toBe(
      'starting chance, average care 15 %; 9 of 31 bikes here × 1.8; 20 to 30 years × 1.8; ' +
        'seller refused cold start × 2',
    )
  })

  it('that is nothing stays nothing, and gives no reason', () => {
    const none = { key: 'none' }
    expect(hiddenChanceOf({ ...known, fault: none, refused: cold, ageYears: 40 })).toEqual({
      chance: 0,
      because: [],
    })
  })
})

describe('the age of a bike', () => {
  it.each([
    [2026, 0],
    [2017, 0],
    [2016, 1],
    [2007, 1],
    [2006, 2],
    [1997, 2],
    [1996, 3],
    [1931, 3],
    [2027, 0],
  ])('of model year %i is in band %i', (year, band) => {
    expect(ageBandOf(ageOfBike(year, '2026-11-25')!)).toBe(band)
  })

  it('is not known without a model year', () => {
    expect(ageOfBike(null, '2026-11-25')).toBeNull()
    expect(ageOfBike(undefined, '2026-11-25')).toBeNull()
  })
})

describe('a refusal', () => {
  it.each([
    sellerRefused,
    'Warm on arrival, seller refused to wait',
    'The seller would not let us',
    'seller didn’t want it started',
    'The seller refuses',
  ])('is what “%s” says', (because) => {
    expect(saysRefused(because)).toBe(true)
  })

  it.each([null, '', 'Engine was already warm', 'No time this visit', 'The seller was kind', 'We refused'])(
    'is not what “%s” says',
    (because) => {
      expect(saysRefused(because)).toBe(false)
    },
  )

  const bootsOf = (readings: readonly Reading[], of: HiddenTerms | undefined = terms) =>
    deriveFaults({
      catalogue: smallCatalogue,
      kind: anyBike,
      judgements: judgements(readings),
      decisions: [],
      hidden: of,
    }).find((one) => one.fault === 'boots-cracked')!
  const refused = reading('boots', sellerRefused, { kind: 'skipped' })

  it('raises the faults of the check that was refused, and no longer once it is answered', () => {
    const unasked = bootsOf([])
    const asked = bootsOf([refused])
    expect(asked.chance).toEqual(timesOdds(unasked.chance, 2))
    expect(asked.chanceBecause.at(-1)).toMatchObject({ from: 'refused', check: 'boots', odds: 2 })
    expect(bootsOf([refused, reading('boots', 'good')])).toMatchObject({ state: 'clear', chanceBecause: [] })
    expect(bootsOf([refused, reading('boots', 'bad')])).toMatchObject({ state: 'found', chanceBecause: [] })
  })

  it('is told from another reason to leave a check out', () => {
    const other = reading('boots', 'No tool for it here', { kind: 'skipped' })
    expect(bootsOf([other]).chance).toEqual(bootsOf([]).chance)
  })
})

describe('tell-tales of care', () => {
  const seen = (...readings: Reading[]) =>
    careOf({ catalogue: startingCatalogue, kind: anyBike, readings, finished: [], care })

  it('leave the shop’s own chances where nobody looked', () => {
    expect(seen()).toEqual({ before: care, after: care, signs: [] })
  })

  it('weigh a rusty chain by Bayes’ rule', () => {
    const { after, signs } = seen(reading('chain-oil', 'rusty'))
    const { rusty } = careSigns[2]!.likelihood
    const total = careStates.reduce((sum, state) => sum + care[state] * rusty![state], 0)
    for (const state of careStates)
      expect(after[state]).toBeCloseTo((care[state] * rusty![state]) / total, 12)
    expect(signs).toEqual([
      {
        sign: 'chain',
        check: 'chain-oil',
        title: 'Oil on the chain',
        answer: 'rusty',
        says: 'Dry and rusty',
        likelihood: rusty,
      },
    ])
  })

  it('count the fluid of two brakes as one sign, the front one first', () => {
    const rear = reading('brake-fluid-rear', 'clear')
    const front = reading('brake-fluid-front', 'dark')
    expect(seen(rear, front).signs.map(({ check }) => check)).toEqual(['brake-fluid-front'])
    expect(seen(rear).signs.map(({ check }) => check)).toEqual(['brake-fluid-rear'])
  })

  it('are what the bike came with, not what the shop made of it', () => {
    const brought = reading('brake-fluid-front', 'dark', { takenAt: '2026-11-20T08:00:00.000Z' })
    const renewed = reading('brake-fluid-front', 'clear', { takenAt: '2026-11-24T08:00:00.000Z' })
    expect(seen(renewed, brought).signs.map(({ answer }) => answer)).toEqual(['dark'])
    const cure = startingCatalogue.faults.find(({ key }) => key === 'front-brake-fluid-old')!.jobs[0]!
    const finished = [{ job: cure, at: '2026-11-22T08:00:00.000Z' }]
    expect(
      careOf({ catalogue: startingCatalogue, kind: anyBike, readings: [renewed], finished, care }).signs,
    ).toEqual([])
  })

  it('do not speak through a check that was left out or does not apply', () => {
    expect(seen(reading('chain-oil', 'No light', { kind: 'skipped' })).signs).toEqual([])
    const shaft = { ...anyBike, finalDrive: 'shaft' } as const
    const readings = [reading('chain-oil', 'rusty')]
    expect(careOf({ catalogue: startingCatalogue, kind: shaft, readings, finished: [], care }).signs).toEqual(
      [],
    )
  })

  it('stay as they were where no state could give such an answer', () => {
    expect(reweighed(care, [{ likelihood: { kept: 0, average: 0, neglected: 0 } }])).toEqual(care)
  })

  it('of the catalogue have answers that make a whole in each state, of checks that are there', () => {
    for (const { key, checks, likelihood } of careSigns) {
      for (const state of careStates) {
        const whole = Object.values(likelihood).reduce((sum, chances) => sum + chances[state], 0)
        expect(whole, `${key} ${state}`).toBeCloseTo(1, 12)
      }
      for (const of of checks) {
        const check = startingCatalogue.checks.find((one) => one.key === of)
        if (check?.sort !== 'look') throw new Error(`${of} is no look`)
        expect(check.answers.map((answer) => answer.key)).toEqual(Object.keys(likelihood))
      }
      expect(
        checks.some((of) => startingCatalogue.checks.find((one) => one.key === of)?.short),
        `${key} in the short round`,
      ).toBe(true)
    }
  })
})

describe('ageing in the catalogue', () => {
  it('is said only where a chance can hide', () => {
    const wrong = startingCatalogue.faults.filter(({ ages, hidden }) => ages && !hidden)
    expect(wrong.map(({ key }) => key)).toEqual([])
  })
})

describe('looks done as routine', () => {
  const { checks } = smallCatalogue
  const bike = (readings: readonly Reading[], rest: Partial<BikeLooked> = {}): BikeLooked => ({
    kind: anyBike,
    nonRunner: false,
    readings,
    limits: [],
    work: [],
    ...rest,
  })
  const given = { catalogue: smallCatalogue, ages: startingFigures.tyreAges }
  const boots = checks.find(({ key }) => key === 'boots')!
  const others = checks.filter(
    ({ key, round, sort }) => round === boots.round && key !== 'boots' && sort === 'look',
  )
  const round = (answer: string) => [
    reading('boots', answer),
    ...others.map((check) => reading(check.key, check.sort === 'look' ? check.answers[0]!.key : '')),
  ]

  it('count a bike whose round was gone through, found or not', () => {
    expect(routineLooks(bike(round('bad')), given).get('boots-cracked')).toEqual({ found: true })
    expect(routineLooks(bike(round('good')), given).get('boots-cracked')).toEqual({ found: false })
  })

  it('are not a look taken alone, because something pointed there', () => {
    expect(routineLooks(bike([reading('boots', 'bad')]), given).size).toBe(0)
  })

  it('are the first answers, before anybody worked on it', () => {
    const later = reading('boots', 'good', { takenAt: '2026-12-20T08:00:00.000Z' })
    expect(routineLooks(bike([...round('bad'), later]), given).get('boots-cracked')).toEqual({ found: true })
    const cure = smallCatalogue.faults.find(({ key }) => key === 'boots-cracked')!.jobs[0]!
    const work = [{ job: cure, at: '2026-11-01T08:00:00.000Z' }]
    expect(routineLooks(bike(round('good'), { work }), given).has('boots-cracked')).toBe(false)
  })

  it('are not what was left out', () => {
    const left = round('good').map((one) =>
      one.check === 'boots' ? { ...one, kind: 'skipped' as const, value: 'No time' } : one,
    )
    expect(routineLooks(bike(left), given).has('boots-cracked')).toBe(false)
  })

  it('are counted over bikes', () => {
    const looks = [round('bad'), round('good'), round('good')].map((of) => routineLooks(bike(of), given))
    expect(countLooks(looks).get('boots-cracked')).toEqual({ found: 1, looked: 3 })
  })
})

it('nothing is learned where every state is sure already', () => {
  const chance = { kept: 0, average: 0, neglected: 0 }
  const counted = { found: 3, looked: 9 }
  expect(learnedFrom({ chance, care, priorBikes: 20, counted })).toEqual({ before: 0, after: 0, factor: 1 })
})
