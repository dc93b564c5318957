import { describe, expect, it } from 'vitest'
import { workOut, workOutForBoard } from '../../lib/core/board/bike-result'
import { dealDeskOf } from '../../lib/core/board/deal-desk'
import { type BoardRow, boardRow, type Ranking, rank } from '../../lib/core/board/row'
import { startingFigures } from '../../lib/core/board/starting-figures'
import type { OtherWaysNoted } from '../../lib/core/board/ways-out-of-bike'
import { noWork } from '../../lib/core/checks/judge-bike'
import { meanOf } from '../../lib/core/quantity/three-point'
import { anyBike, smallCatalogue } from '../support/small-catalogue'
import { asOf, now, reading } from '../support/small-readings'

const facts = { id: 'b1', viewingNo: 7, stockNo: null, stage: 'viewing' }

const noted: OtherWaysNoted = { trade: null, parts: null, wastePermit: false, registryNotice: false }

const known = {
  catalogue: smallCatalogue,
  kind: anyBike,
  readings: [reading('fuel', 'damp'), reading('throttle', 'bad')],
  limits: [],
  decisions: [],
  clearings: [],
  work: noWork,
  ridePapers: { noted: true },
  figures: startingFigures,
  sale: { low: 200_000, likely: 235_000, high: 260_000 },
  price: { amountMinor: 120_000, basis: 'asking' },
  asOf,
  now,
} as const

describe('a row of the board', () => {
  it('tells the margin with what one in ten falls below and rises above', () => {
    const result = workOut(known)
    const row = boardRow(result, { bike: known, facts, noted })
    expect(row).toMatchObject({ ...facts, stops: 1, musts: 1, price: known.price })
    expect(row.marginMean).toBe(result.deal!.atAsking!.expectedMargin)
    expect(row.marginLow!).toBeLessThan(row.marginMean!)
    expect(row.marginHigh!).toBeGreaterThan(row.marginMean!)
    expect(row.marginPerBenchHour).toBeCloseTo(row.marginMean! / row.hoursMean, 9)
    expect(row.holdUp).toBe('Unsafe: throttle-slow.')
  })

  it('tells what going on gains, what is left after its keep, and the days, as the desk of the bike does', () => {
    const noted = {
      trade: { low: 90_000, likely: 100_000, high: 110_000 },
      parts: null,
      wastePermit: false,
      registryNotice: false,
    }
    const bike = {
      ...known,
      readings: [],
      price: { amountMinor: 120_000, basis: 'paid' },
      figures: { ...startingFigures, benchHourPriceMinor: 9000 },
    } as const
    const result = workOut(bike)
    const { waysOut } = dealDeskOf(bike, { result, noted, bestPrice: null })
    const row = boardRow(workOutForBoard(bike), { bike, facts, noted })
    expect(row.gainFromGoingOn).toBeCloseTo(waysOut!.gainFromGoingOn!, 6)
    expect(row.leftAfterKeep).toBeCloseTo(
      row.marginMean! + row.hoursMean * (startingFigures.labourCostMinor - 9000),
      6,
    )
    expect(row.daysToReady).toBe(result.daysToReady)
    expect(row.daysToSold).toBeCloseTo(result.daysToReady + meanOf(startingFigures.daysToSell), 9)
  })

  it('without a price shows the walk-away price and no margin', () => {
    const without = { ...known, price: null }
    const row = boardRow(workOut(without), { bike: without, facts, noted })
    expect(row).toMatchObject({
      marginMean: null,
      marginLow: null,
      chanceOfLoss: null,
      marginPerBenchHour: null,
    })
    expect(row.walkAway).toBeGreaterThan(0)
  })

  it('without bench work has no margin per hour', () => {
    const nothing = { ...smallCatalogue, faults: [], checks: [] }
    const row = boardRow(workOut({ ...known, catalogue: nothing }), { bike: known, facts, noted })
    expect(row.hoursMean).toBe(0)
    expect(row.marginMean).not.toBeNull()
    expect(row.marginPerBenchHour).toBeNull()
  })
})

describe('ranking', () => {
  const row = (viewingNo: number, rest: Partial<BoardRow>): BoardRow => ({
    id: `b${viewingNo}`,
    viewingNo,
    stockNo: null,
    stage: 'bought',
    price: null,
    marginMean: null,
    marginLow: null,
    marginHigh: null,
    chanceOfLoss: null,
    walkAway: null,
    gainFromGoingOn: null,
    leftAfterKeep: null,
    daysToReady: 3,
    daysToSold: null,
    hoursMean: 1,
    marginPerBenchHour: null,
    gainPerBenchHour: null,
    costMean: 0,
    stops: 0,
    musts: 0,
    openChecks: 0,
    holdUp: '',
    ...rest,
  })
  const rows = [
    row(1, {
      ...{ marginMean: 10_000, marginPerBenchHour: 10_000, chanceOfLoss: 0.2 },
      ...{ gainFromGoingOn: 9000, gainPerBenchHour: 900, leftAfterKeep: 500, daysToSold: 20 },
    }),
    row(2, {}),
    row(4, { marginMean: 30_000, marginPerBenchHour: 3000, chanceOfLoss: 0.1, leftAfterKeep: 28_000 }),
    row(3, {
      marginMean: 30_000,
      chanceOfLoss: 0.1,
      gainFromGoingOn: -200,
      gainPerBenchHour: 1200,
      daysToSold: 45,
    }),
    row(5, { marginMean: -5000, marginPerBenchHour: -2500, chanceOfLoss: 0.9, daysToSold: 20 }),
  ]

  it.each([
    ['margin', [3, 4, 1, 5, 2]],
    ['margin-per-bench-hour', [1, 4, 5, 2, 3]],
    ['chance-of-loss', [3, 4, 1, 5, 2]],
    ['gain-from-going-on', [1, 3, 2, 4, 5]],
    ['gain-per-bench-hour', [3, 1, 2, 4, 5]],
    ['left-after-its-keep', [4, 1, 2, 3, 5]],
    ['days-to-sold', [1, 5, 3, 2, 4]],
  ] as [Ranking, number[]][])(
    'by %s, what cannot be ranked last, equal ones by viewing number',
    (by, order) => {
      expect(rank(rows, by).map(({ viewingNo }) => viewingNo)).toEqual(order)
      expect(rank([...rows].reverse(), by).map(({ viewingNo }) => viewingNo)).toEqual(order)
    },
  )
})
