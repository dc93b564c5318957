import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type JobToPlan, type StepToPlan, tasksOfBike } from '../../lib/core/plan/bike-tasks'
import { closureOf } from '../../lib/core/work/union'

/** Steps that need only earlier ones, so that none needs itself. */
const work = fc
  .record({
    needs: fc.array(fc.array(fc.nat(20), { maxLength: 2 }), { minLength: 1, maxLength: 8 }),
    hours: fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 8, maxLength: 8 }),
    shares: fc.array(fc.constantFrom(0, 0.5, 0.6, 1), { minLength: 8, maxLength: 8 }),
    lifts: fc.array(fc.boolean(), { minLength: 8, maxLength: 8 }),
    jobs: fc.array(
      fc.record({
        steps: fc.array(fc.nat(20), { maxLength: 3 }),
        hours: fc.integer({ min: 0, max: 30 }),
        waits: fc.boolean(),
        away: fc.constantFrom(0, 0, 3),
      }),
      { maxLength: 7 },
    ),
    more: fc.constantFrom(0, 2),
    prove: fc.constantFrom(0, 1),
  })
  .map(({ needs, hours, shares, lifts, jobs, more, prove }) => {
    const key = (no: number) => `s${no}`
    const steps = needs.map(
      (of, no): StepToPlan => ({
        key: key(no),
        title: key(no),
        hours: hours[no]! / 4,
        needs: no === 0 ? [] : [...new Set(of.map((other) => key(other % no)))],
        putBackShare: shares[no]!,
        keepsOnLift: lifts[no]!,
      }),
    )
    return {
      steps,
      jobs: jobs.map(
        (one, no): JobToPlan => ({
          key: `j${no}`,
          title: `j${no}`,
          steps: [...new Set(one.steps.map((other) => key(other % steps.length)))],
          hours: one.hours / 4,
          spentHours: 0,
          underWay: false,
          awayDays: one.away,
          wait: one.waits ? { title: 'hardens', hours: 24 } : null,
          skill: null,
          onLift: true,
        }),
      ),
      moreHours: more,
      proveHours: prove,
    }
  })

describe('for all work on a bike', () => {
  it('the hours of people are those of the steps, each once, and of the jobs', () => {
    fc.assert(
      fc.property(work, (asked) => {
        const known = new Map(asked.steps.map((step) => [step.key, step]))
        const used = closureOf(
          asked.jobs.flatMap(({ steps }) => steps),
          known,
        )
        const expected =
          asked.steps.filter(({ key }) => used.has(key)).reduce((sum, { hours }) => sum + hours, 0) +
          asked.jobs.reduce((sum, { hours }) => sum + hours, 0) +
          asked.moreHours +
          asked.proveHours
        const { tasks } = tasksOfBike(asked)
        const hands = tasks.filter(({ kind }) => kind !== 'away' && kind !== 'wait')
        expect(hands.reduce((sum, { hours }) => sum + hours, 0)).toBeCloseTo(expected, 9)
      }),
    )
  })

  it('everything comes after what it needs, nothing after itself, and every name is a task', () => {
    fc.assert(
      fc.property(work, (asked) => {
        const { tasks, keptOnLift } = tasksOfBike(asked)
        const done = new Set<string>()
        const left = [...tasks]
        while (left.length > 0) {
          const at = left.findIndex(({ after }) => after.every((key) => done.has(key)))
          expect(at, 'a circle, or a task that is not there').toBeGreaterThanOrEqual(0)
          done.add(left.splice(at, 1)[0]!.key)
        }
        expect(done.size).toBe(tasks.length)
        if (keptOnLift) for (const key of Object.values(keptOnLift)) expect(done).toContain(key)
      }),
    )
  })

  it('nothing goes back on before each job that needed it off is done and has hardened', () => {
    fc.assert(
      fc.property(work, (asked) => {
        const { tasks } = tasksOfBike(asked)
        const byKey = new Map(tasks.map((task) => [task.key, task]))
        const before = (key: string): Set<string> => {
          const all = new Set<string>()
          const walk = (one: string) => {
            for (const other of byKey.get(one)!.after)
              if (!all.has(other)) {
                all.add(other)
                walk(other)
              }
          }
          walk(key)
          return all
        }
        for (const back of tasks.filter(({ kind }) => kind === 'put back')) {
          const earlier = before(back.key)
          for (const job of back.jobs)
            for (const key of [`job:${job}`, `wait:${job}`])
              if (byKey.has(key)) expect(earlier, `${back.key} before ${key}`).toContain(key)
        }
      }),
    )
  })
})
