import type { DealInput } from '../../../../../lib/core/deal/deal.input'
import type { WhatIf } from '../../../../../lib/core/deal/what-if'
import { minorFromTyped, typedMoney } from '../../../../../lib/core/quantity/typed-money'
import { formatMoney, formatShare } from '../../../../_ui/formats'

/** What is typed: text as it stands in the fields, so that a half-typed figure is not lost. */
export type Typed = {
  asking: string
  saleLow: string
  saleLikely: string
  saleHigh: string
  labourCost: string
  benchHourPrice: string
  targetMargin: string
  maxChanceOfLoss: string
  out: readonly string[]
  in: readonly string[]
}

export type TypedFigure = keyof Omit<Typed, 'in' | 'out'>

/** The bike as it is, as it would be typed. */
export function typedFrom({
  input,
  benchHourPriceMinor,
}: {
  input: DealInput
  benchHourPriceMinor: number
}): Typed {
  const { sale, asking, estimate, rule } = input
  const three = typeof sale === 'number' ? { low: sale, likely: sale, high: sale } : sale
  return {
    asking: typedMoney(asking ?? null),
    saleLow: typedMoney(three.low),
    saleLikely: typedMoney(three.likely),
    saleHigh: typedMoney(three.high),
    labourCost: typedMoney(estimate.labourRate),
    benchHourPrice: typedMoney(benchHourPriceMinor),
    targetMargin: typedMoney(rule.targetMargin),
    maxChanceOfLoss: rule.kind === 'average' ? typedShare(rule.maxChanceOfLoss) : '',
    out: [],
    in: [],
  }
}

export type Problems = Partial<Record<keyof Typed, string>>

export function changesOf(typed: Typed): { changes: WhatIf | null; problems: Problems } {
  const problems: Problems = {}
  const money = (name: TypedFigure): number => {
    const minor = minorFromTyped(typed[name])
    if (minor === null) problems[name] = 'An amount, like 1450.'
    return minor ?? 0
  }
  const sale = { low: money('saleLow'), likely: money('saleLikely'), high: money('saleHigh') }
  if (sale.low > sale.likely) problems.saleLow ??= 'Low is above likely.'
  if (sale.likely > sale.high) problems.saleHigh ??= 'High is below likely.'
  const chance = typed.maxChanceOfLoss === '' ? undefined : readShare(typed.maxChanceOfLoss)
  if (chance === null) problems.maxChanceOfLoss = 'Per cent, from 0 to 100.'
  const changes: WhatIf = {
    ...(typed.asking.trim() !== '' && { asking: money('asking') }),
    sale,
    labourCost: money('labourCost'),
    benchHourPrice: money('benchHourPrice'),
    targetMargin: money('targetMargin'),
    ...(typeof chance === 'number' && { maxChanceOfLoss: chance }),
    out: typed.out,
    in: typed.in,
  }
  return { changes: Object.keys(problems).length === 0 ? changes : null, problems }
}

/** Per cent as typed, as a share; null where it is none. */
function readShare(typed: string): number | null {
  const value = Number(typed.trim().replace(',', '.').replace(/%$/, '') || Number.NaN)
  return value >= 0 && value <= 100 ? value / 100 : null
}

function typedShare(share: number): string {
  return String(Number((share * 100).toFixed(4)))
}

/** What was kept, laid over the bike as it is now. */
export function typedWith(start: Typed, { sale, in: takenIn = [], out = [], ...figures }: WhatIf): Typed {
  const money = (minor: number | undefined, as: string) => (minor === undefined ? as : typedMoney(minor))
  return {
    asking: money(figures.asking, start.asking),
    saleLow: money(sale?.low, start.saleLow),
    saleLikely: money(sale?.likely, start.saleLikely),
    saleHigh: money(sale?.high, start.saleHigh),
    labourCost: money(figures.labourCost, start.labourCost),
    benchHourPrice: money(figures.benchHourPrice, start.benchHourPrice),
    targetMargin: money(figures.targetMargin, start.targetMargin),
    maxChanceOfLoss:
      figures.maxChanceOfLoss === undefined ? start.maxChanceOfLoss : typedShare(figures.maxChanceOfLoss),
    in: takenIn,
    out,
  }
}

/** Only what differs from the bike as it is, by the names of the form that keeps it. */
export function fieldsToKeep(typed: Typed, start: Typed): [name: string, value: string][] {
  const read = (text: string) => minorFromTyped(text) ?? text
  const differs = (...names: TypedFigure[]) => names.some((name) => read(typed[name]) !== read(start[name]))
  const figure = (name: TypedFigure): [string, string][] => (differs(name) ? [[name, typed[name]]] : [])
  const sale: [string, string][] = differs('saleLow', 'saleLikely', 'saleHigh')
    ? [
        ['sale.low', typed.saleLow],
        ['sale.likely', typed.saleLikely],
        ['sale.high', typed.saleHigh],
      ]
    : []
  return [
    ...figure('asking'),
    ...sale,
    ...figure('labourCost'),
    ...figure('benchHourPrice'),
    ...figure('targetMargin'),
    ...figure('maxChanceOfLoss'),
    ...typed.in.map((key): [string, string] => ['in[]', key]),
    ...typed.out.map((key): [string, string] => ['out[]', key]),
  ]
}

/** What a kept one changes, in words. */
export function changesSay(
  {
    asking,
    sale,
    labourCost,
    benchHourPrice,
    targetMargin,
    maxChanceOfLoss,
    in: takenIn = [],
    out = [],
  }: WhatIf,
  { currency, title }: { currency: string; title: (key: string) => string },
): string {
  const money = (minor: number) => formatMoney(minor, currency)
  const says = [
    asking !== undefined && `price ${money(asking)}`,
    sale && `sale ${money(sale.low)}, ${money(sale.likely)} or ${money(sale.high)}`,
    labourCost !== undefined && `labour cost ${money(labourCost)} an hour`,
    benchHourPrice !== undefined && `bench hour ${money(benchHourPrice)}`,
    targetMargin !== undefined && `target margin ${money(targetMargin)}`,
    maxChanceOfLoss !== undefined && `chance of loss ${formatShare(maxChanceOfLoss)}`,
    ...takenIn.map((key) => `with: ${title(key)}`),
    ...out.map((key) => `without: ${title(key)}`),
  ].filter((part) => typeof part === 'string')
  const all = says.join('; ')
  return `${all.charAt(0).toUpperCase()}${all.slice(1)}.`
}
