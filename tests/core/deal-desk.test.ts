import { describe, expect, it, test } from 'vitest'
import { type BikeToWorkOut, workOut } from '../../lib/core/board/bike-result'
import { dealDeskOf } from '../../lib/core/board/deal-desk'
import { startingFigures } from '../../lib/core/board/starting-figures'
import type { OtherWaysNoted } from '../../lib/core/board/ways-out-of-bike'
import type { Decision } from '../../lib/core/checks/decision.input'
import { noWork } from '../../lib/core/checks/judge-bike'
import type { Reading } from '../../lib/core/checks/reading'
import { nextCheck } from '../../lib/core/deal/next-check'
import { anyBike, micrometer, smallCatalogue, smallChecks } from '../support/small-catalogue'
import { around, asOf, now, reading, stamped } from '../support/small-readings'

const nothingNoted: OtherWaysNoted = { trade: null, parts: null, wastePermit: false, registryNotice: false }

/** A year that costs nothing to stand, so that figures come out by hand. */
const figures = { ...startingFigures, dayPrice: { perDayMinor: 600, moneyPerYear: 0 } }

function bike(rest: Partial<BikeToWorkOut> = {}): BikeToWorkOut {
  return {
    catalogue: smallCatalogue,
    kind: anyBike,
    readings: [],
    limits: [stamped('disc-left', 4.5), stamped('disc-right', 4.5)],
    decisions: [],
    clearings: [],
    work: noWork,
    ridePapers: { noted: true },
    figures,
    sale: { low: 200_000, likely: 235_000, high: 260_000 },
    price: { amountMinor: 140_000, basis: 'asking' },
    asOf,
    now,
    ...rest,
  }
}

function desk(
  rest: Partial<BikeToWorkOut> = {},
  noted: Partial<OtherWaysNoted> = {},
  bestPrice: number | null = null,
) {
  const one = bike(rest)
  const result = workOut(one)
  return { result, ...dealDeskOf(one, { result, noted: { ...nothingNoted, ...noted }, bestPrice }) }
}

/** Everything looked at and good, but for these. */
function checked(set: readonly Reading[] = [], unseen: readonly string[] = []): Reading[] {
  const good = smallChecks.flatMap((check) => {
    if (set.some((one) => one.check === check.key) || unseen.includes(check.key)) return []
    if (check.sort === 'look') return [reading(check.key, check.answers[0]!.key)]
    if (check.sort === 'code') return [reading(check.key, '1024')]
    if (check.sort === 'number') return [reading(check.key, 2)]
    if (check.key === 'battery') return [reading('battery', 12.8, { conditions: ['rested', 'off'] })]
    if (check.key === 'charging') return [reading('charging', 14.2)]
    return around(check.key, [5, 5, 5, 5], micrometer)
  })
  return [...good, ...set]
}

const poor = () => reading('paint', 'bad')

describe('the scope of work', () => {
  const kept = 1 - 0.035 - 1 / 6

  it('takes what a fault takes off after tax, against parts, painter and the bench hour', () => {
    const { scope } = desk({ readings: checked([poor()]) })
    const [repaint] = scope!.jobs
    // 0.4 h × 1.16 × 52.00 + 90.00; the tank's 0.33 h on average × 1.16 × 52.00 beside it.
    expect(repaint).toMatchObject({
      job: 'repaint',
      pays: true,
      uplift: Math.round(25_000 * kept),
      cost: 11_413,
    })
    expect(repaint!.opens).toEqual(['Tank off and on'])
    expect(scope!.gain).toBeCloseTo(25_000 * kept - 11_413 - (2 / 6) * 1.16 * 5200, -1)
  })

  it('an operation that is open anyway costs nothing more', () => {
    const { scope } = desk({ readings: checked([poor(), reading('boots', 'bad')]) })
    expect(scope!.jobs[0]!.opens).toEqual([])
  })

  const slow: Decision = {
    kind: 'add-fault',
    id: 'own',
    key: 'own:slow',
    reason: 'seen',
    own: { title: 'Dull all over', call: 'pays', job: 'repaint', saleOffMinor: 10_000, slowerDays: 20 },
  }

  it('counts the days that it sells sooner at the day’s price', () => {
    const { scope, result } = desk({ readings: checked(), decisions: [slow] })
    expect(scope!.jobs[0]).toMatchObject({
      daysSaved: 20,
      uplift: Math.round(10_000 * kept + 20 * 600),
      pays: true,
    })
    // And the deal itself waits for those days while it is left.
    expect(result.dealInput!.daysToSell).toEqual({ low: 27, likely: 41, high: 80 })
  })

  test.each([
    ['pays on an idle bench', 0, true],
    ['does not where an hour is worth 200', 20_000, false],
  ])('the same job %s', (_, benchHourPriceMinor, pays) => {
    const { scope } = desk({ readings: checked([poor()]), figures: { ...figures, benchHourPriceMinor } })
    expect(scope!.jobs[0]!.pays).toBe(pays)
    expect(scope!.jobs[0]!.shortBy === null).toBe(pays)
  })

  it('brings no more than the best price noted', () => {
    const more: Decision = {
      ...slow,
      own: { title: 'Wants all new', call: 'pays', job: 'repaint', saleOffMinor: 400_000 },
    }
    // With none of it the bike would bring nothing; with all of it at most 2,600.00.
    const { scope } = desk({ readings: checked(), decisions: [more] })
    expect(scope!.jobs[0]!.uplift).toBe(Math.round(400_000 * kept * (260_000 / 400_000)))
    expect(desk({ readings: checked(), decisions: [more] }, {}, 300_000).scope!.jobs[0]!.uplift).toBe(
      Math.round(400_000 * kept * (300_000 / 400_000)),
    )
  })

  it('says who decided otherwise', () => {
    const add: Decision = { kind: 'add-job', id: 'a', key: 'repaint', reason: 'buyer asked' }
    const drop: Decision = { kind: 'drop-job', id: 'a', key: 'repaint', reason: 'no time' }
    expect(desk({ readings: checked([poor()]), decisions: [add] }).scope!.jobs[0]!.decided).toBe('in')
    expect(desk({ readings: checked([poor()]), decisions: [drop] }).scope!.jobs[0]!.decided).toBe('out')
  })

  /** Poor paint, painted or polished. */
  const twoWays = {
    ...smallCatalogue,
    faults: smallCatalogue.faults.map((fault) =>
      fault.key === 'paint-poor' ? { ...fault, jobs: ['repaint', 'lube'] } : fault,
    ),
  }
  const verdicts = (decisions: readonly Decision[]) => {
    const { scope } = desk({ readings: checked([poor()]), catalogue: twoWays, decisions })
    return Object.fromEntries(scope!.jobs.map(({ job, pays, decided }) => [job, { pays, decided }]))
  }

  it('of two jobs for one fault takes the one that leaves more', () => {
    expect(verdicts([])).toEqual({
      repaint: { pays: false, decided: null },
      lube: { pays: true, decided: null },
    })
  })

  it('what a person left out takes the place of nothing, and is told of all the same', () => {
    const drop: Decision = { kind: 'drop-job', id: 'a', key: 'lube', reason: 'none to be had' }
    expect(verdicts([drop])).toEqual({
      repaint: { pays: true, decided: null },
      lube: { pays: true, decided: 'out' },
    })
  })

  it('a job that a person chose for the fault is the only one', () => {
    const choose: Decision = {
      kind: 'choose-job',
      id: 'a',
      key: 'paint-poor',
      job: 'repaint',
      reason: 'sound',
    }
    expect(verdicts([choose])).toEqual({ repaint: { pays: true, decided: null } })
  })

  it('without a sale price there is none', () => {
    expect(desk({ readings: checked([poor()]), sale: null }).scope).toBeNull()
  })
})

describe('which check next', () => {
  it('names the check that is open, what it looks for, and both prices', () => {
    const { nextChecks, result } = desk({ readings: checked([], ['boots']) })
    const [first, ...others] = nextChecks()!
    expect(others).toEqual([])
    expect(first).toMatchObject({ check: 'boots', looksFor: { fault: 'boots-cracked' } })
    expect(first!.ifFound!()).toBeLessThan(result.deal!.walkAway!)
    expect(first!.ifClean!()).toBeGreaterThan(result.deal!.walkAway!)
    // The same as the calculation says of the deal as it was stored.
    const open = [{ key: 'boots', jobs: ['boots'], minutes: 1, detects: 1, safety: false }]
    const [told] = nextCheck({ deal: result.dealInput!, priceShare: 0.5, open }).order
    expect(first!.value).toBeCloseTo(told!.value, 6)
    expect(first!.chanceFound).toBeCloseTo(told!.chanceFound, 9)
  })

  it('tells which cause of a symptom it is, by the calculation for one job of a group', () => {
    // 11.5 V with the engine running: found, and nobody has looked at the plug.
    const { nextChecks, result } = desk({ readings: checked([reading('charging', 11.5)], ['plug']) })
    const first = nextChecks()!.find(({ check }) => check === 'plug')!
    expect(first.looksFor).toEqual({
      fault: 'no-charge',
      title: 'no-charge',
      cause: 'Job connector',
      chance: expect.closeTo(0.4, 9),
    })
    const open = [{ key: 'plug', jobs: ['connector'], minutes: 1, detects: 0.9, safety: false }]
    const [told] = nextCheck({ deal: result.dealInput!, priceShare: 0.5, open }).order
    expect(first.value).toBeCloseTo(told!.value, 6)
    expect(first.ifFound!()).toBe(told!.ifFound!.walkAway)
    expect(first.ifClean!()).toBe(told!.ifClean!.walkAway)
    expect(first.ifFound!()).toBeGreaterThan(first.ifClean!()!)
  })

  it('of one cause that is known there is nothing to be told', () => {
    const named: Decision = {
      kind: 'choose-job',
      id: 'a',
      key: 'no-charge',
      job: 'stator',
      reason: 'measured',
    }
    const readings = checked([reading('charging', 11.5)], ['plug'])
    expect(
      desk({ readings, decisions: [named] })
        .nextChecks()!
        .map(({ check }) => check),
    ).not.toContain('plug')
  })

  it('once it is paid for there is no price left to talk about', () => {
    const price = { amountMinor: 140_000, basis: 'paid' } as const
    expect(desk({ readings: checked([], ['boots']), price }).nextChecks()).toBeNull()
  })

  it('a bike of which all is seen has none left', () => {
    expect(desk({ readings: checked() }).nextChecks()).toEqual([])
  })

  it('without a price there is nothing to decide on', () => {
    expect(desk({ price: null }).nextChecks()).toBeNull()
  })
})

describe('ways out', () => {
  const trade = { low: 100_000, likely: 120_000, high: 130_000 }

  it('compare what is paid for with what it would still bring', () => {
    const price = { amountMinor: 140_000, basis: 'paid' } as const
    const { waysOut, result } = desk({ readings: checked(), price }, { trade })
    const byWay = new Map(waysOut!.ways.map((way) => [way.way, way]))
    expect(byWay.get('retail')!.toBeGained).toBeCloseTo(result.deal!.atAsking!.expectedMargin + 140_000, 6)
    expect(byWay.get('trade')!.toBeGained).toBeCloseTo((100_000 + 4 * 120_000 + 130_000) / 6, 6)
    expect(waysOut!.best).toBe('retail')
  })

  it('the public is shut out while a must stays that no job cures', () => {
    const own: Decision = {
      kind: 'add-fault',
      id: 'm',
      key: 'own:frame',
      reason: 'seen',
      own: { title: 'Frame bent', call: 'must', job: null },
    }
    const { waysOut } = desk({ readings: checked(), decisions: [own] }, { trade })
    expect(waysOut!.ways[0]).toMatchObject({ way: 'retail', toBeGained: null, shut: 'fault-stays' })
  })

  it('without any price there is nothing to compare', () => {
    expect(desk({ price: null }).waysOut).toBeNull()
  })
})

test('three prices stand below what is asked', () => {
  const { prices, result } = desk({ readings: checked() })
  expect(prices!.walkAway).toBe(result.deal!.walkAway)
  expect(prices!.open).toBeLessThanOrEqual(prices!.aim)
  expect(prices!.aim).toBeLessThanOrEqual(140_000)
})
