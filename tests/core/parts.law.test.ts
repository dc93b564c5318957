import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  notUsedUp,
  type PartLine,
  partSources,
  partStates,
  partsToPay,
  standingOf,
} from '../../lib/core/work/parts'

const jobs = ['boots', 'tank'] as const
const names = ['Boot', 'Seal'] as const
const qty = fc.integer({ min: 1, max: 6 })

const line: fc.Arbitrary<PartLine> = fc.record({
  job: fc.constantFrom(...jobs),
  part: fc.constantFrom(...names),
  qty,
  state: fc.constantFrom(...partStates),
  source: fc.constantFrom(...partSources),
  at: fc.integer({ min: 1, max: 28 }).map((day) => `2026-11-${String(day).padStart(2, '0')}T10:00:00.000Z`),
  dueOn: fc.constantFrom(null, '2026-12-01', '2026-12-04'),
  leadDays: fc.constantFrom(null, 3, 10),
})
const wanted = fc.array(fc.record({ job: fc.constantFrom(...jobs), part: fc.constantFrom(...names), qty }), {
  maxLength: 5,
})
const both = fc.record({ wanted, lines: fc.array(line, { maxLength: 8 }) })

describe('what is needed', () => {
  it('is what is ordered, in the box, from the shelf and still to order, less what is there beyond it', () => {
    fc.assert(
      fc.property(both, (asked) => {
        for (const one of standingOf(asked)) {
          expect(one.ordered + one.arrived + one.fromShelf + one.toOrder - one.over).toBe(one.qty)
          expect(Math.min(one.over, one.toOrder)).toBe(0)
          expect(one.listed).toBeLessThanOrEqual(one.toOrder)
          expect(one.state === 'ordered' || one.state === 'arrived').toBe(one.toOrder === 0)
        }
      }),
    )
  })

  it('names every part that a job asks for once, and nothing that neither a job nor a standing line asks for', () => {
    fc.assert(
      fc.property(both, ({ wanted, lines }) => {
        const keys = standingOf({ wanted, lines }).map(({ job, part }) => `${job} ${part}`)
        expect(new Set(keys).size).toBe(keys.length)
        const standing = lines.filter(({ state }) => ['to order', 'ordered', 'arrived'].includes(state))
        const named = new Set([...wanted, ...standing].map(({ job, part }) => `${job} ${part}`))
        expect(new Set(keys)).toEqual(named)
      }),
    )
  })

  it('does not depend on the order of the lines', () => {
    fc.assert(
      fc.property(both, ({ wanted, lines }) => {
        const shown = (of: readonly PartLine[]) =>
          standingOf({
            wanted: [...wanted, ...jobs.map((job) => ({ job, part: 'Boot', qty: 1 }))],
            lines: of,
          })
            .map(({ lines: _, ...one }) => one)
            .sort((a, b) => `${a.job} ${a.part}`.localeCompare(`${b.job} ${b.part}`))
        expect(shown([...lines].reverse())).toEqual(shown(lines))
      }),
    )
  })

  it('counts no line that was written down before its job was finished', () => {
    fc.assert(
      fc.property(fc.array(line), fc.constantFrom(...jobs), (lines, job) => {
        const left = notUsedUp(lines, [{ job, at: '2026-11-14T10:00:00.000Z' }])
        expect(left.filter((one) => one.job !== job)).toEqual(lines.filter((one) => one.job !== job))
        expect(left.filter((one) => one.job === job).every(({ at }) => at > '2026-11-14T10:00:00.000Z')).toBe(
          true,
        )
      }),
    )
  })
})

describe('what is still to be paid', () => {
  const told = fc.array(
    fc.record({
      job: fc.constant('boots'),
      part: fc.constantFrom(...names),
      qty,
      costs: fc.oneof(
        fc.constant('paid' as const),
        fc.record({ unitMinor: fc.integer({ min: 0, max: 5000 }) }),
      ),
      carriageMinor: fc.constantFrom(0, 250),
    }),
    { maxLength: 5 },
  )
  const list = fc.array(
    fc.record({ name: fc.constantFrom(...names), qty, unitCost: fc.integer({ min: 0, max: 9000 }) }),
    { maxLength: 4 },
  )

  it('is every asked line at its price, and of the list what nobody asked or paid for yet', () => {
    fc.assert(
      fc.property(list, told, (parts, lines) => {
        const pays = partsToPay({ key: 'boots', parts }, lines)
        const asked = lines.reduce(
          (sum, { qty: many, costs, carriageMinor }) =>
            sum + carriageMinor + (costs === 'paid' ? 0 : many * costs.unitMinor),
          0,
        )
        const rest = names.map((name) => {
          const mine = parts.filter((part) => part.name === name)
          const need = mine.reduce((sum, part) => sum + part.qty, 0)
          const there = lines.filter(({ part }) => part === name).reduce((sum, one) => sum + one.qty, 0)
          return { name, qty: Math.max(0, need - there) }
        })
        const total = pays.reduce((sum, part) => sum + part.qty * (part.unitCost as number), 0)
        const free = parts.map((part) => ({ ...part, unitCost: 0 }))
        const withoutList = partsToPay({ key: 'boots', parts: free }, lines)
        expect(withoutList.reduce((sum, part) => sum + part.qty * (part.unitCost as number), 0)).toBe(asked)
        const ones = partsToPay(
          { key: 'boots', parts: parts.map((part) => ({ ...part, unitCost: 1 })) },
          lines,
        )
        const listed = ones.reduce((sum, part) => sum + part.qty * (part.unitCost as number), 0) - asked
        expect(listed).toBe(rest.reduce((sum, one) => sum + one.qty, 0))
        expect(total).toBeGreaterThanOrEqual(asked)
      }),
    )
  })

  it('is the list as it stands where nobody said anything, and of another job is no word', () => {
    fc.assert(
      fc.property(list, told, (parts, lines) => {
        expect(partsToPay({ key: 'tank', parts }, lines)).toEqual(parts)
      }),
    )
  })
})
