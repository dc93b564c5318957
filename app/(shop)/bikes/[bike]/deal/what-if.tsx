'use client'

import { useDeferredValue, useId, useMemo, useState } from 'react'
import type { DealInput } from '../../../../../lib/core/deal/deal.input'
import { type AddableJob, type WhatIf, type WhatIfAnswer, whatIf } from '../../../../../lib/core/deal/what-if'
import { minorFromTyped, typedMoney } from '../../../../../lib/core/quantity/typed-money'
import { formatEstimate, formatHours, formatMoney, formatShare } from '../../../../_ui/formats'
import { SpreadStrip } from '../../../../_ui/spread-strip'

type Given = {
  input: DealInput
  addable: readonly AddableJob[]
  jobTitles: Readonly<Record<string, string>>
  currency: string
  benchHourPriceMinor: number
}

/** What is typed: text as it stands in the fields, so that a half-typed figure is not lost. */
type Typed = {
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

/** The deal tried out with other figures, worked out here in the browser; nothing is stored. */
export function WhatIfDesk(given: Given) {
  const start = useMemo(() => typedFrom(given), [given])
  const [first, setFirst] = useState(start)
  const [second, setSecond] = useState<Typed | null>(null)
  return (
    <div className="flex flex-col gap-6">
      <div className={second ? 'grid items-start gap-6 lg:grid-cols-2' : ''}>
        <One title={second ? 'First' : 'What if'} typed={first} change={setFirst} given={given} />
        {second && <One title="Second" typed={second} change={setSecond} given={given} />}
      </div>
      <div className="flex flex-wrap gap-3">
        <button type="button" className="btn-quiet" onClick={() => setFirst(start)}>
          Back to how it is
        </button>
        {second ? (
          <button type="button" className="btn-quiet" onClick={() => setSecond(null)}>
            Take the second away
          </button>
        ) : (
          <button type="button" className="btn-quiet" onClick={() => setSecond(first)}>
            A second one beside it
          </button>
        )}
      </div>
    </div>
  )
}

function One({
  title,
  typed,
  change,
  given,
}: {
  title: string
  typed: Typed
  change: (typed: Typed) => void
  given: Given
}) {
  const later = useDeferredValue(typed)
  const read = useMemo(() => changesOf(later), [later])
  const answer = useMemo(
    () => (read.changes ? whatIf(given.input, { changes: read.changes, addable: given.addable }) : null),
    [read, given],
  )
  const field = (name: keyof Omit<Typed, 'in' | 'out'>, label: string, unit: string) => (
    <Box
      label={label}
      unit={unit}
      value={typed[name]}
      problem={read.problems[name] ?? null}
      onChange={(value) => change({ ...typed, [name]: value })}
    />
  )
  const { currency } = given
  return (
    <section aria-label={title} className="flex flex-col gap-4">
      <h3>{title}</h3>
      <div aria-live="polite" aria-busy={later !== typed}>
        {answer ? <Answer answer={answer} currency={currency} /> : <p>Mend the field that is marked.</p>}
      </div>
      <div className="grid grid-cols-2 gap-3 sm:grid-cols-4">
        {field('asking', 'Price', currency)}
        {field('saleLow', 'Sale, low', currency)}
        {field('saleLikely', 'Sale, likely', currency)}
        {field('saleHigh', 'Sale, high', currency)}
        {field('labourCost', 'Labour cost', `${currency}/h`)}
        {field('benchHourPrice', 'Bench hour', `${currency}/h`)}
        {field('targetMargin', 'Target margin', currency)}
        {field('maxChanceOfLoss', 'Chance of loss', '%')}
      </div>
      <Jobs typed={typed} change={change} given={given} />
    </section>
  )
}

function Answer({ answer, currency }: { answer: WhatIfAnswer; currency: string }) {
  const { margin, walkAway, costMean, hoursMean, leftAfterKeep } = answer
  return (
    <>
      <dl className="grid grid-cols-2 gap-4 sm:grid-cols-4">
        <Told
          label="Walk away above"
          value={walkAway === null ? 'no price' : formatMoney(walkAway, currency)}
        />
        {margin && <Told label="Expected margin" value={formatEstimate(margin.mean, currency)} />}
        {margin && <Told label="Chance of a loss" value={formatShare(margin.chanceOfLoss)} />}
        {leftAfterKeep !== null && (
          <Told label="Left after its keep" value={formatEstimate(leftAfterKeep, currency)} />
        )}
        <Told label="Parts and labour" value={formatEstimate(costMean, currency)} />
        <Told label="Bench hours" value={formatHours(hoursMean)} />
      </dl>
      {margin && (
        <SpreadStrip
          spread={{ low: margin.low, middle: margin.mean, high: margin.high, shape: margin.shape.points }}
          title="Margin"
          zero
          format={(minor) => formatEstimate(minor, currency)}
        />
      )}
    </>
  )
}

function Told({ label, value }: { label: string; value: string }) {
  return (
    <div>
      <dt className="text-sm text-soft">{label}</dt>
      <dd className="text-lg font-semibold">{value}</dd>
    </div>
  )
}

function Jobs({ typed, change, given }: { typed: Typed; change: (typed: Typed) => void; given: Given }) {
  // Of several causes one is true and nobody knows which: their jobs have no chance of their own.
  const causes = new Set(given.input.estimate.oneOf.flatMap(({ jobs }) => Object.keys(jobs)))
  const isIn = given.input.estimate.jobs.filter(
    ({ key, chance }) => (chance === 1 || chance === undefined) && !causes.has(key),
  )
  if (isIn.length + given.addable.length === 0) return null
  const toggle = (list: 'in' | 'out', key: string, on: boolean) =>
    change({ ...typed, [list]: on ? [...typed[list], key] : typed[list].filter((one) => one !== key) })
  const title = (key: string) => given.jobTitles[key] ?? key
  return (
    <fieldset className="flex flex-col gap-2">
      <legend className="mb-1 font-semibold">Jobs that are done</legend>
      {isIn.map(({ key }) => (
        <Tick
          key={key}
          label={title(key)}
          checked={!typed.out.includes(key)}
          onChange={(on) => toggle('out', key, !on)}
        />
      ))}
      {given.addable.map(({ job: { key } }) => (
        <Tick
          key={key}
          label={`${title(key)} (left as it stands)`}
          checked={typed.in.includes(key)}
          onChange={(on) => toggle('in', key, on)}
        />
      ))}
    </fieldset>
  )
}

function Tick({
  label,
  checked,
  onChange,
}: {
  label: string
  checked: boolean
  onChange: (on: boolean) => void
}) {
  return (
    <label className="tile">
      <input type="checkbox" checked={checked} onChange={(event) => onChange(event.target.checked)} />
      <span>{label}</span>
    </label>
  )
}

function Box({
  label,
  unit,
  value,
  problem,
  onChange,
}: {
  label: string
  unit: string
  value: string
  problem: string | null
  onChange: (value: string) => void
}) {
  const id = useId()
  return (
    <div className="flex flex-col gap-1">
      <label htmlFor={id} className="font-semibold">
        {label} <span className="font-normal text-soft">{unit}</span>
      </label>
      <input
        id={id}
        className="field-box min-w-0"
        inputMode="decimal"
        autoComplete="off"
        value={value}
        aria-invalid={problem !== null}
        aria-describedby={problem ? `${id}-problem` : undefined}
        onChange={(event) => onChange(event.target.value)}
      />
      {problem && (
        <span id={`${id}-problem`} className="font-semibold text-plum">
          {problem}
        </span>
      )}
    </div>
  )
}

function typedFrom({ input, benchHourPriceMinor }: Given): Typed {
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
    maxChanceOfLoss: rule.kind === 'average' ? String(Number((rule.maxChanceOfLoss * 100).toFixed(4))) : '',
    out: [],
    in: [],
  }
}

type Problems = Partial<Record<keyof Typed, string>>

function changesOf(typed: Typed): { changes: WhatIf | null; problems: Problems } {
  const problems: Problems = {}
  const money = (name: keyof Omit<Typed, 'in' | 'out'>): number => {
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
