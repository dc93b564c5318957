import { describe, expect, it } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import type { KindCondition } from '../../lib/core/checks/bike-kind'
import {
  type Answer,
  type CareState,
  type Check,
  type Fault,
  type Raise,
  type Round,
  rounds,
  type When,
} from '../../lib/core/checks/catalogue'
import { gateNeeds } from '../../lib/core/checks/gates'
import type { Judgement } from '../../lib/core/checks/judge'
import { conditionWords } from '../../lib/core/checks/says'
import { anyBike } from '../support/small-catalogue'
import { now, reading } from '../support/small-readings'

const { checks, faults, jobs, operations, cautions, careSigns = [] } = startingCatalogue
const faultByKey = new Map(faults.map((fault) => [fault.key, fault]))
const titleOfJob = new Map(jobs.map(({ key, title }) => [key, title]))
const titleOfOperation = new Map(operations.map(({ key, title }) => [key, title]))
const titleOfCheck = new Map(checks.map(({ key, title }) => [key, title]))
const titleOfCaution = new Map(cautions.map(({ key, title }) => [key, title]))

/** Pages that a technician proof-reads: a change to the catalogue shows here as a change to the text. */
describe('the catalogue on paper', () => {
  it.each(rounds)('reads as the page of the %s round', async (round) => {
    await expect(roundPage(round)).toMatchFileSnapshot(`pages/checks-${round}.txt`)
  })

  it('reads as the page of faults', async () => {
    await expect(page('Faults', faults.map(faultText))).toMatchFileSnapshot('pages/faults.txt')
  })

  it('reads as the page of tell-tales', async () => {
    await expect(page('Tell-tales of care', careSigns.map(signText))).toMatchFileSnapshot(
      'pages/care-signs.txt',
    )
  })

  it('reads as the page of jobs, operations and cautions', async () => {
    const text = [
      page('Jobs', jobs.map(jobText)),
      page('Operations', operations.map(operationText)),
      page(
        'Cautions',
        cautions.map(({ title, says }) => `## ${title}\n${says}`),
      ),
    ].join('\n')
    await expect(text).toMatchFileSnapshot('pages/work.txt')
  })
})

function roundPage(round: Round): string {
  const here = checks.filter((check) => check.round === round)
  const short = here.filter((check) => check.short)
  const head = [
    `${here.length} checks, ${minutes(here)} minutes if all apply; ` +
      `in the short round ${short.length}, ${minutes(short)} minutes.`,
  ]
  return page(`Checks: ${round}`, [...head, ...here.map(checkText)])
}

function page(title: string, entries: readonly string[]): string {
  return `# ${title}\n\n${entries.join('\n\n')}\n`
}

function checkText(check: Check): string {
  return lines([
    `## ${check.title}`,
    [
      check.sort,
      `${check.minutes} min`,
      check.safety ? 'safety' : null,
      check.short ? `short round: ${check.short}` : null,
      check.staleAfterDays === undefined ? null : `asked again after ${check.staleAfterDays} days`,
      check.gate ? `opens ${check.gate.opens.join(' and ')} for ${check.gate.hours} h` : null,
      check.sort === 'measured' && check.fastener ? `torque of a ${check.fastener} before ready` : null,
      check.detects === undefined ? null : `finds it ${percent(check.detects)}`,
    ],
    condition(check.appliesTo),
    check.conditions ? `Only when ${check.conditions.join(' and ')}` : null,
    ...check.how.map((says, place) => `${place + 1}. ${says}`),
    check.needs.length > 0 ? `Needs: ${check.needs.join(', ')}` : null,
    ...sortText(check),
    gateText(check),
    check.cautions ? `Caution: ${check.cautions.map((key) => titleOfCaution.get(key)).join('; ')}` : null,
    ...check.raises.map((raise) => `→ ${whenText(check, raise.when)}: ${raiseText(raise)}`),
    `Source: ${check.source.says}`,
  ])
}

/** Of a check that opens a round: for which answers a manager's reason may open it all the same, and for which never. */
function gateText(check: Check): string | null {
  if (!check.gate) return null
  const lacking = check.sort === 'look' ? check.answers.filter(({ tone }) => tone === 'bad') : []
  const opened = lacking.filter((answer) => takesReason(check, answer)).map(({ label }) => label)
  const never = lacking.filter((answer) => !takesReason(check, answer)).map(({ label }) => label)
  if (check.sort === 'measured') (takesReason(check, 'outside') ? opened : never).push('Outside the limit')
  ;(takesReason(check, null) ? opened : never).push('Not done')
  const words = (says: string, of: readonly string[]) => (of.length > 0 ? `${says}: ${of.join(' / ')}` : null)
  return [words('A reason may open it', opened), words('No reason opens it', never)]
    .filter(Boolean)
    .join('. ')
}

function takesReason(check: Check, said: Answer | 'outside' | null): boolean {
  const { appliesTo: _, ...everywhere } = check
  const found = said === 'outside' ? { sort: 'measured', limit: null } : { sort: 'look', answer: said }
  const judged = { check: check.key, verdict: said === null ? 'not-checked' : 'outside', found }
  const [need] = gateNeeds({
    catalogue: { checks: [everywhere as Check], faults },
    kind: anyBike,
    judgements: [judged as Judgement],
    readings: [{ ...reading(check.key, 'x'), kind: 'answer' }],
    worked: new Map(),
    now,
  })
  if (!need) throw new Error(`${check.key} lacks nothing`)
  return need.byReason
}

function answerText({ label, tone, denies }: Answer): string {
  return `${label} (${tone}${denies ? `, so not ${conditionWords[denies]}` : ''})`
}

function sortText(check: Check): (string | null)[] {
  switch (check.sort) {
    case 'look':
      return [`Answers: ${check.answers.map(answerText).join(' / ')}`]
    case 'code':
      return [codeText(check)]
    case 'number':
      return [`Answer: ${check.plausible.min} to ${check.plausible.max} ${check.unitWord}`]
    case 'measured':
      return [
        `In ${check.units.join(' or ')}, ${check.plausible.min} to ${check.plausible.max} ${check.unit} is plausible`,
        `Positions, judged on ${check.judgedOn}: ${check.positions.map(({ label }) => label).join('; ')}`,
        check.needsEngineSpeed ? 'Only with the engine speed noted' : null,
        `Limit: ${check.limit ? `${boundText(check.limit)} (${check.limit.source.says})` : check.law ? 'by the law of the country' : 'set by model'}`,
        ...(check.law ?? []).map(
          (law) =>
            `By law, ${law.country}: ${boundText(law)}${law.appliesTo ? ` (${condition(law.appliesTo)})` : ''} (${law.source.says})`,
        ),
        check.saleLine ? `Sale line: ${boundText(check.saleLine)} (${check.saleLine.source.says})` : null,
        `With: ${check.instruments
          .map((tool) => `${tool.name}, ${tool.resolution} ${tool.unit}, u ${tool.standardUncertainty}`)
          .join('; ')}`,
      ]
  }
}

function codeText(check: Extract<Check, { sort: 'code' }>): string {
  switch (check.code) {
    case 'tyre-date':
      return 'Answer: the last group of the number on the wall'
    case 'tyre-size':
      return 'Answer: the size on the wall'
    case 'done-on':
      return `Answer: year, year and month, or unknown; due over ${check.overYears} years`
  }
}

function boundText({ min, max, unit }: { min?: number; max?: number; unit: string }): string {
  if (min !== undefined && max !== undefined) return `${min} to ${max} ${unit}`
  return min !== undefined ? `at least ${min} ${unit}` : `at most ${max} ${unit}`
}

function whenText(check: Check, when: When): string {
  switch (when.on) {
    case 'outside':
      return check.sort === 'code' ? 'over the years, or unknown' : 'outside the limit'
    case 'above-limit':
      return 'above the limit'
    case 'below-limit':
      return 'below the limit'
    case 'below-sale-line':
      return 'past the sale line'
    case 'older-than':
      return `older than the ${when.years === 'guidance' ? 'guidance age' : 'sale line'}`
    case 'over':
    case 'under':
      return `${when.on} ${when.than}`
    case 'answer':
      return check.sort === 'look'
        ? (check.answers.find(({ key }) => key === when.answer)?.label ?? '?')
        : '?'
  }
}

function raiseText(raise: Raise): string {
  if ('settles' in raise) return `settles the cause: ${titleOfJob.get(raise.settles.cause)}`
  if ('rulesOut' in raise) return `rules out the cause: ${titleOfJob.get(raise.rulesOut.cause)}`
  const fault = faultByKey.get(raise.fault)
  const locks = fault?.locks ? `, shuts ${fault.locks.join(' and ')}` : ''
  return `${fault?.title} [${fault?.call}${locks}]`
}

function byCare({ kept, average, neglected }: Record<CareState, number>): string {
  return `kept ${percent(kept)}, average ${percent(average)}, neglected ${percent(neglected)}`
}

function faultText(fault: Fault): string {
  const { call, locks, clearedBy, jobs: cures, causes, hidden, nonRunner, ages, saleOffMinor } = fault
  return lines([
    `## ${fault.title}`,
    [call, locks ? `shuts ${locks.join(', ')}` : null, clearedBy ? `cleared by ${clearedBy}` : null],
    condition(fault.appliesTo),
    fault.means,
    cures.length > 0 ? `Cured by: ${cures.map((key) => titleOfJob.get(key)).join(' / ')}` : null,
    causes
      ? `One of: ${causes.map(({ job, share }) => `${titleOfJob.get(job)} ${percent(share)}`).join(' / ')}`
      : null,
    fault.diagnosis ? `Found out by: ${titleOfJob.get(fault.diagnosis)}` : null,
    fault.noJobBecause ? `No job: ${fault.noJobBecause}` : null,
    `Proved by: ${fault.rechecks.map((key) => titleOfCheck.get(key)).join(' / ')}`,
    hidden ? `Hidden: ${byCare(hidden)}` : null,
    nonRunner ? `Hidden on a bike that does not run: ${byCare(nonRunner)}` : null,
    ages ? `Grows with age: ${ages}` : null,
    saleOffMinor === undefined ? null : `Left, it takes ${money(saleOffMinor)} off`,
    `Source: ${fault.source.says}`,
  ])
}

function signText({ title, checks: told, likelihood, source }: (typeof careSigns)[number]): string {
  const [check] = told.map((key) => checks.find((one) => one.key === key))
  const labelOf = (answer: string) =>
    check?.sort === 'look' ? check.answers.find(({ key }) => key === answer)?.label : undefined
  return lines([
    `## ${title}`,
    `Told by: ${told.map((key) => titleOfCheck.get(key)).join(', else ')}`,
    ...Object.entries(likelihood).map(([answer, chances]) => `${labelOf(answer)}: ${byCare(chances)}`),
    `Source: ${source.says}`,
  ])
}

function jobText(job: (typeof jobs)[number]): string {
  return lines([
    `## ${job.title}`,
    condition(job.appliesTo),
    `Hours: ${amount(job.hours, String)}${job.fasteners === false ? ' (stuck fasteners do not slow it)' : ''}`,
    job.operations.length > 0
      ? `With: ${job.operations.map((key) => titleOfOperation.get(key)).join(', ')}`
      : null,
    ...job.parts.map(({ name, qty, unitCost }) => `Part: ${qty} × ${name} at ${amount(unitCost, money)}`),
    job.outsideWork === undefined ? null : `Outside work: ${amount(job.outsideWork, money)}`,
    job.cautions ? `Caution: ${job.cautions.map((key) => titleOfCaution.get(key)).join('; ')}` : null,
    `Source: ${job.source.says}`,
  ])
}

function operationText({ title, hours, needs, disturbs, fasteners }: (typeof operations)[number]): string {
  return lines([
    `## ${title}`,
    `Hours: ${amount(hours, String)}${fasteners === false ? ' (stuck fasteners do not slow it)' : ''}`,
    needs ? `First: ${needs.map((key) => titleOfOperation.get(key)).join(', ')}` : null,
    disturbs ? `Asked again after it: ${disturbs.map((key) => titleOfCheck.get(key)).join(', ')}` : null,
  ])
}

function amount(
  of: number | { low: number; likely: number; high: number },
  write: (value: number) => string,
): string {
  return typeof of === 'number' ? write(of) : `${write(of.low)} / ${write(of.likely)} / ${write(of.high)}`
}

function condition(of: KindCondition | undefined): string | null {
  return of
    ? `Only: ${Object.entries(of)
        .map(([part, values]) => `${part} ${values.join(' or ')}`)
        .join(', ')}`
    : null
}

function lines(of: readonly (string | null | readonly (string | null)[])[]): string {
  return of
    .map((line) =>
      line === null || typeof line === 'string' ? line : line.filter((part) => part).join(', '),
    )
    .filter((line) => line)
    .join('\n')
}

function minutes(of: readonly Check[]): string {
  return String(Math.round(of.reduce((sum, check) => sum + check.minutes, 0) * 10) / 10)
}

function percent(share: number): string {
  return `${Math.round(share * 1000) / 10} %`
}

function money(minor: number): string {
  return (minor / 100).toFixed(2)
}
