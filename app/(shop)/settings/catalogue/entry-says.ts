import type { Check, Fault, Job, Operation } from '../../../../lib/core/checks/catalogue'
import type { EntryKind } from '../../../../lib/core/checks/catalogue-problems'
import type { Uncertain } from '../../../../lib/core/quantity/three-point'
import type { Entry } from '../../../../lib/shop/catalogue'
import { countOf, formatHours, formatMoney, formatNumber, formatValue } from '../../../_ui/formats'
import { roundWords } from '../../bikes/[bike]/checks/round-words'
import { sortWords } from './words'

/** What an entry is about, in a line: its main figures. */
export function saysOf(kind: EntryKind, entry: Entry, currency: string): string {
  switch (kind) {
    case 'check':
      return ofCheck(entry as Check)
    case 'fault':
      return ofFault(entry as Fault, currency)
    case 'job':
      return ofJob(entry as Job, currency)
    case 'operation':
      return `${span((entry as Operation).hours, formatHours)}, counted once`
  }
}

function ofCheck(check: Check): string {
  const parts = [
    sortWords[check.sort].title,
    `${roundWords[check.round].name.toLowerCase()} round`,
    `${formatNumber(check.minutes)} min`,
    check.short ? 'in the short round' : '',
    limitSays(check),
  ]
  return parts.filter((part) => part !== '').join(' · ')
}

function limitSays(check: Check): string {
  if (check.sort !== 'measured') return ''
  if (!check.limit) return 'set by model'
  const { min, max, unit } = check.limit
  const bounds = [
    min === undefined ? '' : `at least ${formatValue(min, unit)}`,
    max === undefined ? '' : `at most ${formatValue(max, unit)}`,
  ]
  return bounds.filter((bound) => bound !== '').join(', ')
}

function ofFault({ call, jobs, causes = [], saleOffMinor }: Fault, currency: string): string {
  const cure = causes.length > 0 ? countOf(causes.length, 'cause') : countOf(jobs.length, 'job')
  const off =
    saleOffMinor === undefined ? '' : ` · ${formatMoney(saleOffMinor, currency)} off where it is left`
  return `${call} · ${cure}${off}`
}

function ofJob({ hours, parts, outsideWork = 0, operations }: Job, currency: string): string {
  const outside = typeof outsideWork === 'number' ? outsideWork : outsideWork.high
  return [
    span(hours, formatHours),
    countOf(parts.length, 'part'),
    outside > 0 ? `outside ${span(outsideWork, (minor) => formatMoney(minor, currency))}` : '',
    operations.length > 0 ? countOf(operations.length, 'shared operation') : '',
  ]
    .filter((part) => part !== '')
    .join(' · ')
}

function span(value: Uncertain, write: (value: number) => string): string {
  return typeof value === 'number' ? write(value) : `${write(value.low)} to ${write(value.high)}`
}
