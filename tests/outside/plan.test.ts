import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { plan } from '../../lib/core/plan/plan'
import { type PlanInput, planInput } from '../../lib/core/plan/plan.input'
import { planByHighs } from '../../lib/desk/bench/highs-plan'
import { expectKept } from '../support/plan-checker'
import { planInputs } from '../support/random-plan'

interface Single {
  release?: number
  duration: number
  weight: number
}

/** One technician, one task a bike. */
function oneTechnician(all: readonly Single[], more: Partial<PlanInput> = {}): PlanInput {
  return planInput.parse({
    objective: 'weighted-ready',
    resources: { technician: 1 },
    bikes: all.map(({ release = 0, duration, weight }, at) => ({
      id: `${at + 1}`,
      weight,
      release,
      tasks: [{ id: `t${at + 1}`, duration, uses: { technician: 1 } }],
    })),
    ...more,
  })
}

function orderOf({ starts }: { starts: Record<string, number> }): string[] {
  return Object.entries(starts)
    .sort((a, b) => a[1] - b[1])
    .map(([id]) => id.slice(1))
}

describe('published examples of one machine', () => {
  test.each<[string, Single[], string[], number]>([
    // Kleinberg & Tardos, Algorithm Design, exercise 4.13, read in a copy.
    ['1, 3 with weights 10, 2', [{ duration: 1, weight: 10 }, { duration: 3, weight: 2 }], ['1', '2'], 18], // biome-ignore format: one line reads better
    // Smith 1956: the order read, the value computed.
    [
      '3, 1, 2 with weights 2, 5, 1',
      [
        { duration: 3, weight: 2 },
        { duration: 1, weight: 5 },
        { duration: 2, weight: 1 },
      ],
      ['2', '1', '3'],
      19,
    ],
    // Computed by listing all orders.
    [
      'four with releases',
      [
        { release: 0, duration: 5, weight: 2 },
        { release: 1, duration: 1, weight: 6 },
        { release: 3, duration: 2, weight: 3 },
        { release: 4, duration: 4, weight: 1 },
      ],
      ['2', '3', '1', '4'],
      61,
    ],
  ])('%s', (_, all, order, value) => {
    const answer = plan(oneTechnician(all))
    expect(answer).toMatchObject({ objective: value, lowerBound: value })
    expect(orderOf(answer)).toEqual(order)
  })
})

describe("Smith's rule (1956)", () => {
  const single = fc.record({
    duration: fc.integer({ min: 1, max: 30 }),
    weight: fc.integer({ min: 0, max: 30 }),
  })

  it('is met and proven for any number of bikes on one technician, by the first schedules made', () => {
    fc.assert(
      fc.property(fc.array(single, { minLength: 1, maxLength: 60 }), (all) => {
        const sorted = [...all].sort((a, b) => b.weight / b.duration - a.weight / a.duration)
        let now = 0
        const least = sorted.reduce((sum, { duration, weight }) => {
          now += duration
          return sum + weight * now
        }, 0)
        const answer = plan(oneTechnician(all, { effort: 100 }))
        expect(answer).toMatchObject({ objective: least, lowerBound: least })
      }),
      { numRuns: 60 },
    )
  })

  it('is met and proven for weights that are not whole', () => {
    const all = [3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5].map((duration, at) => ({
      duration,
      weight: 0.1 * (at + 1),
    }))
    const answer = plan(oneTechnician(all, { effort: 100 }))
    expect(answer.lowerBound).toBe(answer.objective)
    expect(answer.schedules).toBeLessThan(100)
  })
})

describe('against a general solver', () => {
  it('60 small plans have the same least cost', async () => {
    const byHighs = await planByHighs()
    const cases = fc.sample(
      planInputs({ tasks: 5, bikes: 3, objective: 'weighted-ready', workshop: false }),
      {
        numRuns: 60,
        seed: 20261126,
      },
    )
    for (const input of cases) {
      const answer = plan(input)
      expectKept(input, answer)
      expect(answer.lowerBound).toBe(answer.objective)
      if (answer.objective > 0) expect(answer.objective).toBeCloseTo(byHighs(input), 4)
    }
  })
})
