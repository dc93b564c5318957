import fc from 'fast-check'
import { type EstimateRawInput, estimateInput } from '../../lib/core/work/estimate.input'

/** Small works of every kind: shared operations, needs, states of care, groups, plain and three-point values. */
export const smallWork: fc.Arbitrary<EstimateRawInput> = fc
  .record({
    operations: fc.array(
      fc.record({ hours: value(3, 100), needs: fc.array(fc.nat(4), { maxLength: 2 }), free: fc.boolean() }),
      { minLength: 1, maxLength: 5 },
    ),
    jobs: fc.array(
      fc.record({
        operations: fc.array(fc.nat(4), { maxLength: 3 }),
        hours: value(4, 100),
        price: value(30_000, 1),
        qty: fc.integer({ min: 1, max: 4 }),
        outside: fc.oneof(fc.constant(0), value(9_000, 1)),
        chance: fc.oneof(fc.constantFrom(0, 1, 0.5), hundredths()),
        neglected: fc.option(hundredths()),
        free: fc.boolean(),
      }),
      { maxLength: 6 },
    ),
    cared: fc.boolean(),
    group: fc.option(fc.record({ chance: hundredths(), first: hundredths() })),
    rate: fc.constantFrom(0, 5200, 9900),
    stuck: fc.boolean(),
  })
  .map(({ operations, jobs, cared, group, rate, stuck }) => {
    const grouped = group && jobs.length >= 2
    return {
      labourRate: rate,
      operations: Object.fromEntries(
        operations.map(({ hours, needs, free }, place) => [
          `op ${place}`,
          {
            hours,
            fasteners: !free,
            needs: [...new Set(needs)].filter((other) => other < place).map((other) => `op ${other}`),
          },
        ]),
      ),
      jobs: jobs.map((job, place) => ({
        key: `job ${place}`,
        operations: [...new Set(job.operations)]
          .filter((other) => other < operations.length)
          .map((other) => `op ${other}`),
        hours: job.hours,
        parts: [{ name: 'part', qty: job.qty, unitCost: job.price }],
        outsideWork: job.outside,
        fasteners: !job.free,
        ...(grouped && place < 2
          ? {}
          : {
              chance:
                cared && job.neglected !== null ? { kept: job.chance, neglected: job.neglected } : job.chance,
            }),
      })),
      ...(cared
        ? {
            care: [
              { name: 'kept', chance: 0.7 },
              { name: 'neglected', chance: 0.3 },
            ],
          }
        : {}),
      ...(grouped
        ? {
            oneOf: [
              {
                name: 'group',
                chance: group.chance,
                jobs: { 'job 0': group.first, 'job 1': 1 - group.first },
              },
            ],
          }
        : {}),
      ...(stuck
        ? {
            fasteners: [
              { name: 'free', chance: 0.8, factor: 1 },
              { name: 'stuck', chance: 0.2, factor: 1.7 },
            ],
          }
        : {}),
    }
  })

/** The same with every value plain. */
export const plainWork: fc.Arbitrary<EstimateRawInput> = smallWork.map((work) => {
  const plain = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(plain)
    if (typeof value !== 'object' || value === null) return value
    if ('likely' in value) return value.likely
    return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, plain(inner)]))
  }
  return plain(work) as EstimateRawInput
})

export const workOf = (work: EstimateRawInput) => estimateInput.parse(work)

function hundredths() {
  return fc.nat(100).map((whole) => whole / 100)
}

/** Up to `most`, in steps of one part of `perUnit`. */
function value(most: number, perUnit: number) {
  const step = fc.nat(most * perUnit).map((whole) => whole / perUnit)
  return fc.oneof(
    step,
    fc.tuple(step, step, step).map((three) => {
      const [low, likely, high] = three.sort((a, b) => a - b)
      return { low: low!, likely: likely!, high: high! }
    }),
  )
}
