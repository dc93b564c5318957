import { z } from 'zod'
import { type FigureKey, type Figures, figuresInput } from '../core/board/figures.input'
import { careStates } from '../core/checks/catalogue'
import { taxSchemes } from '../core/deal/tax.input'
import { typedMoney } from '../core/quantity/typed-money'
import type { Db, Tx } from '../data/store'
import { deed, type Inside, requireFresh } from './deed'
import {
  lineOrNull,
  minuteOf,
  moneyOf,
  most,
  numberOrNull,
  typedMinute,
  versionOf,
  weekdaysOf,
} from './fields'
import { percentOf } from './open-shop'
import { refuse, refuseField } from './refusal'

/** The figures in force: the snapshot that the shop's row names. */
export async function readFigures(db: Db | Tx): Promise<Figures> {
  const shop = await db.shop.findFirst({ select: { figuresNo: true } })
  if (!shop) return refuse('rule', 'This shop is not open yet.')
  return readFiguresNo(db, shop.figuresNo)
}

/** A number's figures never change, so each store reads and checks them once. */
const known = new WeakMap<object, Map<number, Figures>>()

/** The figures of one number. */
export async function readFiguresNo(db: Db | Tx, no: number): Promise<Figures> {
  const before = known.get(db)?.get(no)
  if (before) return before
  const { body } = await db.figures.findUniqueOrThrow({ where: { no } })
  const figures = figuresInput.parse(JSON.parse(body))
  const ofStore = known.get(db) ?? new Map<number, Figures>()
  known.set(db, ofStore.set(no, figures))
  return figures
}

const amount = moneyOf('Give an amount; 0 is one too.')

const numberOf = (given: { min: number; max: number; message: string }) =>
  numberOrNull(given).transform((value, context) => {
    if (value !== null) return value
    context.addIssue({ code: 'custom', message: given.message })
    return z.NEVER
  })

const days = numberOf({ min: 0, max: 3650, message: 'Give a number of days.' })
const years = numberOf({ min: 1, max: 50, message: 'Give a number of years, from 1 to 50.' })

const factor = numberOf({ min: 0.01, max: 100, message: 'Give a factor, like 1.5.' })
/** A list whose places are fields of a form: season.0, season.1 … */
const listOf = <S extends z.ZodType>(item: S, count: number) =>
  z
    .strictObject(Object.fromEntries(Array.from({ length: count }, (_, place) => [String(place), item])))
    .transform((places) => Object.values(places) as z.output<S>[])
const byAge = listOf(factor, 4)
const ageOdds = z.strictObject({ slow: byAge, fast: byAge })
const priorBikes = numberOf({ min: 1, max: 10_000, message: 'Give a number of bikes, like 20.' })
const market = z.strictObject({
  weight: numberOf({ min: 0, max: 10, message: 'Give a weight from 0 to 10, like 0.8.' }),
  toRetail: numberOf({ min: 0.1, max: 10, message: 'Give a factor, like 1.08.' }),
})
/** Around a hundred per cent, kept as a share. */
const percentAbout = numberOf({
  min: 1,
  max: 300,
  message: 'Give per cent of the usual price, like 97.',
}).transform((value) => Math.round(value * 1e6) / 1e8)

/** The figures as people type them: money in major units, shares in per cent. Any part of them may be sent. */
const typedShape = {
  labourCost: amount,
  tax: z.strictObject({
    scheme: z.enum(taxSchemes, { error: 'Choose how the shop is taxed.' }),
    rate: percentOf,
  }),
  dayPrice: z.strictObject({ perDay: amount, moneyPerYear: percentOf }),
  daysToSell: z.strictObject({ low: days, likely: days, high: days }).superRefine((given, context) => {
    if (given.low > given.likely)
      context.addIssue({
        code: 'custom',
        path: ['likely'],
        message: 'Likely days must not be below the low ones.',
      })
    if (given.likely > given.high)
      context.addIssue({
        code: 'custom',
        path: ['high'],
        message: 'High days must not be below the likely ones.',
      })
  }),
  targetMargin: amount,
  maxChanceOfLoss: percentOf,
  reserveShareOfSale: percentOf,
  standingCosts: amount,
  sellingCosts: amount,
  buyingCosts: z.strictObject({ fixed: amount, shareOfPrice: percentOf }),
  fasteners: z.record(
    z.string(),
    z.strictObject({
      chance: percentOf,
      factor: numberOf({ min: 0.1, max: 20, message: 'Give a factor, like 1.4.' }),
    }),
  ),
  care: z.strictObject({ kept: percentOf, average: percentOf, neglected: percentOf }),
  tyreAges: z.strictObject({ guidance: years, saleLine: years }),
  workshop: z.strictObject({
    benchHoursPerDay: numberOf({ min: 0.1, max: 240, message: 'Give the hours a day, like 5.5.' }),
    daysBeforeStart: days,
  }),
  bench: z
    .strictObject({
      lifts: numberOf({ min: 1, max: 100, message: 'Give the number of lifts, from 1.' }).refine(
        Number.isInteger,
        'Give a whole number.',
      ),
      weekdays: weekdaysOf,
      from: minuteOf,
      to: minuteOf,
      atTheBike: percentOf.refine((share) => share >= 0.05, 'Give from 5 to 100 per cent.'),
      awayDays: days,
      orderDays: days,
    })
    .refine(({ from, to }) => from < to, { message: 'Work must end after it begins.', path: ['to'] }),
  benchHourPrice: amount,
  bargaining: z
    .strictObject({ openShare: percentOf, aimShare: percentOf, talkedOffShare: percentOf })
    .refine((given) => given.openShare <= given.aimShare, {
      message: 'The first figure must not be above the one hoped for.',
      path: ['openShare'],
    }),
  hiddenFaults: z.strictObject({ refusedOdds: factor, ageOdds, priorBikes }),
  learnedHours: z.strictObject({
    priorJobs: numberOf({ min: 0.1, max: 1000, message: 'Give a number of jobs, like 4.' }),
  }),
  notedPrices: z.strictObject({
    soldToAsked: percentOf,
    longStandingPerMonth: percentOf,
    halfLifeDays: numberOf({ min: 1, max: 36_500, message: 'Give a number of days.' }),
    yearScale: numberOf({ min: 0.5, max: 100, message: 'Give a number of years.' }),
    distanceScaleKm: numberOf({ min: 100, max: 1e6, message: 'Give a distance, like 20000.' }),
    conditionStep: percentOf,
    markets: z.strictObject({ private: market, trade: market, auction: market }),
  }),
  season: listOf(percentAbout, 12),
}
const typedFiguresInput = z.strictObject(typedShape).partial()
type TypedFigures = z.output<typeof typedFiguresInput>

export const changeFiguresInput = z.strictObject({
  version: versionOf,
  reason: lineOrNull(most.reason),
  figures: typedFiguresInput.refine(
    (figures) => Object.keys(figures).length > 0,
    'There is nothing to save.',
  ),
})

/**
 * Saves some of the figures under a new number; what was worked out under an earlier one keeps it. Figures
 * that were saved are the shop's own from then on, even where they stayed as they were: somebody looked.
 */
export const changeFigures = deed('figures:change', changeFiguresInput, async (input, inside) => {
  const set = Object.keys(input.figures) as (keyof TypedFigures)[]
  const no = await saveFigures(inside, {
    version: input.version,
    reason: input.reason ?? '',
    theirs: (before) => typedFigures(before, set),
    change: (before) => {
      const owned = new Set([...before.owned, ...set.map((key) => storedAs[key])])
      const after: Figures = { ...before, ...merged(input.figures, before), owned: [...owned].sort() }
      refuseWrongSums(after, set)
      return after
    },
  })
  return {
    answer: { figuresNo: no },
    event: { bikeId: null, body: { figures: no, set, reason: input.reason } },
  }
})

/** Writes figures under the next number, which is answered; refused where others were saved since `version`. */
export async function saveFigures(
  { tx, now, who }: Pick<Inside, 'tx' | 'now' | 'who'>,
  given: {
    version: number
    reason: string
    /** What is stored now, by field, for whoever saw an older version. */
    theirs: (before: Figures) => Record<string, string>
    change: (before: Figures) => Figures
  },
): Promise<number> {
  const shop = await tx.shop.findFirstOrThrow()
  const before = await readFigures(tx)
  const no = shop.figuresNo + 1
  const { count } = await tx.shop.updateMany({
    where: { id: shop.id, version: given.version },
    data: { figuresNo: no, version: { increment: 1 } },
  })
  requireFresh(count, { ...given.theirs(before), version: String(shop.version) })
  const body = JSON.stringify(figuresInput.parse(given.change(before)))
  await tx.figures.create({ data: { no, body, reason: given.reason, personId: who.personId, at: now } })
  return no
}

const storedAs = {
  labourCost: 'labourCostMinor',
  tax: 'tax',
  dayPrice: 'dayPrice',
  daysToSell: 'daysToSell',
  targetMargin: 'targetMarginMinor',
  maxChanceOfLoss: 'maxChanceOfLoss',
  reserveShareOfSale: 'reserveShareOfSale',
  standingCosts: 'standingCostsMinor',
  sellingCosts: 'sellingCostsMinor',
  buyingCosts: 'buyingCosts',
  fasteners: 'fasteners',
  care: 'care',
  tyreAges: 'tyreAges',
  workshop: 'workshop',
  bench: 'bench',
  benchHourPrice: 'benchHourPriceMinor',
  bargaining: 'bargaining',
  hiddenFaults: 'hiddenFaults',
  learnedHours: 'learnedHours',
  notedPrices: 'notedPrices',
  season: 'season',
} as const satisfies Record<keyof TypedFigures, FigureKey>

function merged(typed: TypedFigures, before: Figures): Partial<Figures> {
  const { labourCost, tax, dayPrice, targetMargin, standingCosts, sellingCosts, buyingCosts, ...same } = typed
  const { fasteners, benchHourPrice, hiddenFaults, learnedHours, bench, ...alike } = same
  return {
    ...alike,
    ...(bench && { bench: storedBench(bench) }),
    ...(benchHourPrice !== undefined && { benchHourPriceMinor: benchHourPrice }),
    ...(hiddenFaults && { hiddenFaults: { ...before.hiddenFaults, ...hiddenFaults } }),
    ...(learnedHours && { learnedHours: { ...before.learnedHours, ...learnedHours } }),
    ...(labourCost !== undefined && { labourCostMinor: labourCost }),
    ...(tax && { tax: { ...before.tax, scheme: tax.scheme, rate: tax.scheme === 'none' ? 0 : tax.rate } }),
    ...(dayPrice && { dayPrice: { perDayMinor: dayPrice.perDay, moneyPerYear: dayPrice.moneyPerYear } }),
    ...(targetMargin !== undefined && { targetMarginMinor: targetMargin }),
    ...(standingCosts !== undefined && { standingCostsMinor: standingCosts }),
    ...(sellingCosts !== undefined && { sellingCostsMinor: sellingCosts }),
    ...(buyingCosts && {
      buyingCosts: { fixedMinor: buyingCosts.fixed, shareOfPrice: buyingCosts.shareOfPrice },
    }),
    ...(fasteners && {
      fasteners: before.fasteners.map((state) => ({ ...state, ...fasteners[state.name] })),
    }),
  }
}

function storedBench({ from, to, ...alike }: NonNullable<TypedFigures['bench']>): Figures['bench'] {
  return { ...alike, fromMinute: from, toMinute: to }
}

/** Chances of states that exclude each other: told here, at the first of their fields. */
function refuseWrongSums({ fasteners, care }: Figures, set: readonly string[]): void {
  const sums: Record<string, { field: string; chances: readonly number[] }> = {
    fasteners: {
      field: `figures.fasteners.${fasteners[0]?.name}.chance`,
      chances: fasteners.map((state) => state.chance),
    },
    care: { field: 'figures.care.kept', chances: Object.values(care) },
  }
  for (const key of set) {
    const sum = sums[key]
    if (!sum) continue
    const total = sum.chances.reduce((a, b) => a + b, 0)
    // Per cent are kept to six places, so a true sum misses one by less than this.
    if (Math.abs(total - 1) > 1e-9) {
      refuseField(
        sum.field,
        `These chances add up to ${typedPercent(total)} %. Change them until they make 100.`,
      )
    }
  }
}

/** The figures as text by the name of their field; `only` some of them. */
export function typedFigures(
  figures: Figures,
  only?: readonly (keyof TypedFigures)[],
): Record<string, string> {
  const all: Record<keyof TypedFigures, Record<string, string>> = {
    labourCost: { '': typedMoney(figures.labourCostMinor) },
    tax: { scheme: figures.tax.scheme, rate: typedPercent(figures.tax.rate ?? 0) },
    dayPrice: {
      perDay: typedMoney(figures.dayPrice.perDayMinor),
      moneyPerYear: typedPercent(figures.dayPrice.moneyPerYear),
    },
    daysToSell: typedNumbers(figures.daysToSell),
    targetMargin: { '': typedMoney(figures.targetMarginMinor) },
    maxChanceOfLoss: { '': typedPercent(figures.maxChanceOfLoss) },
    reserveShareOfSale: { '': typedPercent(figures.reserveShareOfSale) },
    standingCosts: { '': typedMoney(figures.standingCostsMinor) },
    sellingCosts: { '': typedMoney(figures.sellingCostsMinor) },
    buyingCosts: {
      fixed: typedMoney(figures.buyingCosts.fixedMinor),
      shareOfPrice: typedPercent(figures.buyingCosts.shareOfPrice),
    },
    fasteners: Object.fromEntries(
      figures.fasteners.flatMap(({ name, chance, factor }) => [
        [`${name}.chance`, typedPercent(chance)],
        [`${name}.factor`, String(factor)],
      ]),
    ),
    care: Object.fromEntries(careStates.map((state) => [state, typedPercent(figures.care[state])])),
    tyreAges: typedNumbers(figures.tyreAges),
    workshop: typedNumbers(figures.workshop),
    bench: typedBench(figures),
    benchHourPrice: { '': typedMoney(figures.benchHourPriceMinor) },
    bargaining: typedShares(figures.bargaining),
    hiddenFaults: typedHiddenFaults(figures),
    learnedHours: typedNumbers({ priorJobs: figures.learnedHours.priorJobs }),
    notedPrices: typedNotedPrices(figures),
    season: Object.fromEntries(figures.season.map((share, month) => [String(month), typedPercent(share)])),
  }
  const wanted = only ?? (Object.keys(all) as (keyof TypedFigures)[])
  return Object.fromEntries(
    wanted.flatMap((key) =>
      Object.entries(all[key]).map(([part, text]) => [`figures.${part ? `${key}.${part}` : key}`, text]),
    ),
  )
}

function typedBench({ bench }: Figures): Record<string, string> {
  const { weekdays, fromMinute, toMinute, atTheBike, ...plain } = bench
  return {
    ...typedNumbers(plain),
    ...typedShares({ atTheBike }),
    // A list stands a line each, as a form sends it.
    'weekdays[]': weekdays.join('\n'),
    from: typedMinute(fromMinute),
    to: typedMinute(toMinute),
  }
}

function typedHiddenFaults({ hiddenFaults }: Figures): Record<string, string> {
  const { refusedOdds, priorBikes, ageOdds } = hiddenFaults
  return {
    ...typedNumbers({ refusedOdds, priorBikes }),
    ...Object.fromEntries(
      Object.entries(ageOdds).flatMap(([pace, byAge]) =>
        byAge.map((odds, band) => [`ageOdds.${pace}.${band}`, String(odds)]),
      ),
    ),
  }
}

function typedNotedPrices({ notedPrices }: Figures): Record<string, string> {
  const { soldToAsked, longStandingPerMonth, conditionStep, markets, ...plain } = notedPrices
  return {
    ...typedShares({ soldToAsked, longStandingPerMonth, conditionStep }),
    ...typedNumbers(plain),
    ...Object.fromEntries(
      Object.entries(markets).flatMap(([market, { weight, toRetail }]) => [
        [`markets.${market}.weight`, String(weight)],
        [`markets.${market}.toRetail`, String(toRetail)],
      ]),
    ),
  }
}

function typedShares(given: Record<string, number>): Record<string, string> {
  return Object.fromEntries(Object.entries(given).map(([key, value]) => [key, typedPercent(value)]))
}

function typedNumbers(given: Record<string, number>): Record<string, string> {
  return Object.fromEntries(Object.entries(given).map(([key, value]) => [key, String(value)]))
}

/** A share in per cent as typed: 0.035 → "3.5"; rounded where a binary fraction would show. */
function typedPercent(share: number): string {
  return String(Number((share * 100).toFixed(6)))
}
