'use client'

import { useDeferredValue, useId, useMemo, useState } from 'react'
import type { DealInput } from '../../../../../lib/core/deal/deal.input'
import { type AddableJob, type WhatIfAnswer, whatIf } from '../../../../../lib/core/deal/what-if'
import type { KeptWhatIf } from '../../../../../lib/shop/what-ifs'
import { formatEstimate, formatHours, formatMoney, formatShare } from '../../../../_ui/formats'
import { SpreadStrip } from '../../../../_ui/spread-strip'
import { KeepForm, KeptList } from './kept-what-ifs'
import { changesOf, type Typed, type TypedFigure, typedFrom, typedWith } from './what-if-typed'

type Given = {
  input: DealInput
  addable: readonly AddableJob[]
  jobTitles: Readonly<Record<string, string>>
  currency: string
  benchHourPriceMinor: number
  /** Kept for this bike, the latest first. */
  kept: readonly KeptWhatIf[]
  bike: string
  zone: string
  /** For what is kept next, one for each of two columns. */
  freshIds: readonly [string, string]
}

/** What stands in one of the two columns, and the kept one it was opened from. */
type Tried = { typed: Typed; from: { name: string; typed: Typed } | null }

/** The deal tried out with other figures, worked out here in the browser; stored only where one is kept by name. */
export function WhatIfDesk(given: Given) {
  const start = useMemo(() => typedFrom(given), [given])
  const asItIs: Tried = { typed: start, from: null }
  const [first, setFirst] = useState(asItIs)
  const [second, setSecond] = useState<Tried | null>(null)
  const opened = ({ name, changes }: KeptWhatIf): Tried => {
    const typed = typedWith(start, changes)
    return { typed, from: { name, typed } }
  }
  const titleOf = ({ typed, from }: Tried, place: 0 | 1) => {
    if (from) return typed === from.typed ? from.name : `${from.name}, changed`
    return second ? ['First', 'Second'][place]! : 'What if'
  }
  const column = (tried: Tried, place: 0 | 1) => (
    <One
      title={titleOf(tried, place)}
      typed={tried.typed}
      change={(typed) => (place === 0 ? setFirst : setSecond)({ ...tried, typed })}
      start={start}
      given={given}
      freshId={given.freshIds[place]}
    />
  )
  return (
    <div className="flex flex-col gap-6">
      {given.kept.length > 0 && (
        <KeptList
          kept={given.kept}
          bike={given.bike}
          currency={given.currency}
          zone={given.zone}
          jobTitles={given.jobTitles}
          open={(one) => setFirst(opened(one))}
          openBeside={(one) => setSecond(opened(one))}
        />
      )}
      <div className={second ? 'grid items-start gap-6 lg:grid-cols-2' : ''}>
        {column(first, 0)}
        {second && column(second, 1)}
      </div>
      <div className="flex flex-wrap gap-3">
        <button type="button" className="btn-quiet" onClick={() => setFirst(asItIs)}>
          Back to how it is
        </button>
        {second ? (
          <button type="button" className="btn-quiet" onClick={() => setSecond(null)}>
            Take the second away
          </button>
        ) : (
          <button
            type="button"
            className="btn-quiet"
            onClick={() => setSecond({ typed: first.typed, from: null })}
          >
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
  start,
  given,
  freshId,
}: {
  title: string
  typed: Typed
  change: (typed: Typed) => void
  start: Typed
  given: Given
  freshId: string
}) {
  const later = useDeferredValue(typed)
  const read = useMemo(() => changesOf(later), [later])
  const answer = useMemo(
    () => (read.changes ? whatIf(given.input, { changes: read.changes, addable: given.addable }) : null),
    [read, given],
  )
  const field = (name: TypedFigure, label: string, unit: string) => (
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
      {read.changes && <KeepForm title={title} typed={typed} start={start} bike={given.bike} id={freshId} />}
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
