import { expect } from 'vitest'
import { workOut } from '../../lib/core/board/bike-result'
import { dealDeskOf } from '../../lib/core/board/deal-desk'
import type { DealInput } from '../../lib/core/deal/deal.input'
import type { Way } from '../../lib/core/deal/ways-out'
import { seenOnly } from '../../lib/core/work/seen-only'
import type { Context } from '../../lib/shop/deed'
import { readToWorkOut } from '../../lib/shop/facts'
import { bestNoted } from '../../lib/shop/noted-prices'
import { type DealShown, readDeal } from '../../lib/shop/read-deal'
import { calcHere } from './calc-command'

/** One answer of the command, through its schema and through JSON as from a terminal. */
async function calc<T>(name: string, input: unknown): Promise<T> {
  const { status, out, err } = await calcHere([name], JSON.stringify(input))
  expect({ status, err }).toEqual({ status: 0, err: '' })
  return JSON.parse(out) as T
}

type Outcome = {
  expectedMargin: number
  chanceOfLoss: number
  chanceOfTarget: number
  margin: { quantiles: Record<string, number> }
}
type DealSaid = { walkAway: number | null; atAsking: Outcome | null; atWalkAway: Outcome | null }
type Spread = { mean: number; quantiles: Record<string, number> }

/**
 * Every figure of one bike's deal page against what the command says of the input that the page rests on. Answers
 * how many next checks and optional jobs were among them.
 */
export async function expectByCalc(
  context: Context,
  viewingNo: string,
): Promise<{ checks: number; optional: number }> {
  const page = await readDeal(context, viewingNo)
  const { desk, deal } = page
  if (!desk || !deal) throw new Error(`bike ${viewingNo} has no deal`)
  const { dealInput } = desk
  await expectDeal(page, dealInput)
  const asked = await deskInputs(context, page.id)
  expect(asked.dealInput).toEqual(dealInput)
  await expectScope(page, asked)
  await expectChecks(page, asked)
  await expectWays(page, asked)
  return { checks: desk.nextChecks?.length ?? 0, optional: desk.scope?.jobs.length ?? 0 }
}

/** What the desk asked the calculations, from what is stored. */
async function deskInputs({ store, now }: Context, bikeId: string) {
  const { input, bike, shop, noted } = await readToWorkOut(store.db, { bikeId, now })
  const result = workOut(input)
  const otherWays = { trade: null, parts: null, wastePermit: false, registryNotice: false }
  const desk = dealDeskOf(input, { result, noted: otherWays, bestPrice: bestNoted(bike, { shop, noted }) })
  return { bike: input, dealInput: result.dealInput!, desk }
}
type Asked = Awaited<ReturnType<typeof deskInputs>>

async function expectDeal({ deal, desk }: DealShown, dealInput: DealInput): Promise<void> {
  const said = await calc<DealSaid>('deal', dealInput)
  const { walkAway, atPrice, atWalkAway } = deal!
  expect(walkAway).toBe(said.walkAway)
  for (const [shown, told] of [
    [atPrice, said.atAsking],
    [atWalkAway, said.atWalkAway],
  ] as const) {
    expect(shown === null).toBe(told === null)
    if (!shown || !told) continue
    expect(shown.marginMean).toBeCloseTo(told.expectedMargin, 6)
    expect(shown.marginLow).toBeCloseTo(told.margin.quantiles['0.1']!, 6)
    expect(shown.marginHigh).toBeCloseTo(told.margin.quantiles['0.9']!, 6)
    expect(shown.chanceOfLoss).toBeCloseTo(told.chanceOfLoss, 9)
    expect(shown.chanceOfTarget).toBeCloseTo(told.chanceOfTarget, 9)
  }
  const { hours, cost } = await calc<{ hours: Spread; cost: Spread }>('estimate', dealInput.estimate)
  expect(desk!.hoursMean).toBeCloseTo(hours.mean, 6)
  expect(desk!.cost.middle).toBeCloseTo(cost.mean, 6)
  expect(desk!.cost.low).toBeCloseTo(cost.quantiles['0.1']!, 6)
  expect(desk!.cost.high).toBeCloseTo(cost.quantiles['0.9']!, 6)
  expectPrices(desk!, walkAway, dealInput)
  expectSteps(deal!)
  await expectSwings(deal!, dealInput)
}

/** Open ≤ aim ≤ walk away, each of the first two so many whole tens. */
function expectPrices(
  { prices, openShare, aimShare }: NonNullable<DealShown['desk']>,
  walkAway: number | null,
  { asking }: DealInput,
): void {
  expect(prices === null).toBe(walkAway === null)
  if (!prices || walkAway === null) return
  expect(prices.walkAway).toBe(walkAway)
  for (const [price, share] of [
    [prices.open, openShare],
    [prices.aim, aimShare],
  ] as const) {
    expect(price).toBeLessThanOrEqual(walkAway * share)
    // Only what is asked may bring it further down than the next whole ten.
    if (price !== asking) expect(price).toBeGreaterThan(walkAway * share - 1000)
  }
}

function expectSteps({ steps, atPrice }: NonNullable<DealShown['deal']>): void {
  if (!steps || !atPrice) return
  const { sale, margin, ...less } = steps
  expect(sale - Object.values(less).reduce((sum, one) => sum + one, 0)).toBeCloseTo(margin, 6)
  expect(margin).toBeCloseTo(atPrice.marginMean, 6)
  expect(steps.price).toBe(atPrice.priceMinor)
}

async function expectSwings({ swings }: NonNullable<DealShown['deal']>, dealInput: DealInput) {
  const { asking: _, ...input } = dealInput
  const { care: __, ...estimate } = input.estimate
  for (const { input: of, at, walkAway } of swings) {
    for (const end of ['bad', 'good'] as const) {
      const value = Math.max(0, Math.round(at[end]))
      const work = { key: 'work', outsideWork: value }
      const changed = {
        sale: { sale: value },
        'days-to-sell': { daysToSell: at[end] },
        work: { estimate: { ...estimate, operations: {}, oneOf: [], jobs: [work] } },
        unseen: end === 'bad' ? {} : { estimate: seenOnly(input.estimate) },
      }[of]
      const said = await calc<DealSaid>('deal', { ...input, ...changed })
      expect(walkAway[end], `${of} ${end}`).toBe(said.walkAway)
    }
  }
}

async function expectScope({ desk }: DealShown, asked: Asked): Promise<void> {
  const { scope } = desk!
  const input = asked.desk.scope!.input
  const said = await calc<{
    chosen: string[]
    left: { key: string; shortBy: number | null }[]
    value: number
  }>('scope', input)
  for (const { job, pays, shortBy, decided, uplift, cost } of scope!.jobs) {
    if (decided === 'out') continue
    expect(pays, job).toBe(said.chosen.includes(job))
    if (!pays) expect(shortBy, job).toBe(said.left.find(({ key }) => key === job)!.shortBy)
    expect({ uplift, cost }).toEqual(pick(input.jobs.find(({ key }) => key === job)!))
  }
  const musts = input.jobs.filter(({ must }) => must)
  const without = await calc<{ value: number }>('scope', { ...input, jobs: musts, alternatives: [] })
  expect(scope!.gain).toBe(said.value - without.value)
}

const pick = ({ uplift, cost }: { uplift: number; cost: number }) => ({ uplift, cost })

async function expectChecks({ desk }: DealShown, { bike, desk: asked, dealInput }: Asked): Promise<void> {
  const ranked = asked.nextChecks()
  expect(desk!.nextChecks === null).toBe(ranked === null)
  type Worth = {
    key: string
    value: number
    ifClean: { walkAway: number | null } | null
    ifFound: { walkAway: number | null } | null
  }
  for (const shown of desk!.nextChecks ?? []) {
    const { asked: open } = ranked!.find(({ check }) => check === shown.check)!
    const { order } = await calc<{ order: Worth[] }>('next-check', {
      deal: dealInput,
      priceShare: bike.figures.bargaining.talkedOffShare,
      open,
    })
    const heaviest = order.find(({ key }) => key === open[0]!.key)!
    expect(shown.valueMinor, shown.check).toBeCloseTo(
      order.reduce((sum, { value }) => sum + value, 0),
      4,
    )
    expect(shown.ifClean, shown.check).toBe(heaviest.ifClean?.walkAway ?? null)
    expect(shown.ifFound, shown.check).toBe(heaviest.ifFound?.walkAway ?? null)
  }
}

/** Whole minor units are what `calc tax` reads and answers, so a mean may be off by one. */
const rounding = 1.01

async function expectWays({ desk, deal }: DealShown, { bike }: Asked): Promise<void> {
  const { waysOut, otherWays } = desk!
  expect(waysOut === null).toBe(bike.price === null)
  if (!waysOut || !bike.price) return
  const { figures, price, spentMinor = 0 } = bike
  const fees = figures.buyingCosts.fixedMinor + figures.buyingCosts.shareOfPrice * price.amountMinor
  const bought = price.basis === 'paid'
  const wayOf = (way: Way['way']) => waysOut.ways.find((one) => one.way === way)!
  const retail = wayOf('retail')
  if (retail.toBeGained !== null) {
    const back = bought ? price.amountMinor + fees + spentMinor : 0
    expect(retail.toBeGained).toBeCloseTo(deal!.atPrice!.marginMean + back, 6)
  }
  const hour = figures.benchHourPriceMinor ?? figures.labourCostMinor
  const paid = bought ? 0 : price.amountMinor + fees + spentMinor
  for (const [way, value, less] of [
    ['trade', otherWays.trade, 0],
    ['break', otherWays.parts?.value, (otherWays.stripHours ?? 0) * hour + (otherWays.breakCostMinor ?? 0)],
  ] as const) {
    const { toBeGained, shut } = wayOf(way)
    if (!value || toBeGained === null) {
      expect(shut).not.toBeNull()
      continue
    }
    const mean = Math.round((value.low + 4 * value.likely + value.high) / 6)
    const { tax } = await calc<{ tax: number }>('tax', {
      ...figures.tax,
      purchase: price.amountMinor,
      sale: mean,
    })
    expect(Math.abs(toBeGained - (mean - tax - less - paid))).toBeLessThan(rounding)
  }
  const open = waysOut.ways.filter(({ toBeGained }) => toBeGained !== null)
  const most = Math.max(...open.map(({ toBeGained }) => toBeGained!))
  expect(wayOf(waysOut.best!).toBeGained).toBe(most)
}
