import fc from 'fast-check'
import { type PlanInput, type PlanRawInput, planInput } from '../../lib/core/plan/plan.input'

interface Extent {
  /** Tasks of all bikes together, at most. */
  tasks: number
  bikes: number
  objective?: PlanInput['objective']
  /** With calendars, people, holds, promises and pins, not releases and resources alone. */
  workshop: boolean
}

const ben = 'ben'
const asha = 'asha'

/** Small workshops with small numbers, so that much collides. A pin may turn out not to stand. */
export function planInputs({ tasks, bikes, objective, workshop }: Extent): fc.Arbitrary<PlanInput> {
  const upTo = (max: number) => fc.integer({ min: 0, max })
  const oneIn = (count: number) => upTo(count - 1).map((draw) => draw === 0)
  const task = fc.record({
    duration: upTo(4),
    technician: upTo(2),
    lift: oneIn(3),
    by: fc.constantFrom<(string[] | undefined)[]>(undefined, undefined, [asha], [ben], [asha, ben]),
    release: fc.tuple(oneIn(4), upTo(12)).map(([yes, time]) => (yes ? time : 0)),
    clock: oneIn(2),
    pausable: oneIn(2),
    after: fc.array(fc.tuple(upTo(tasks), oneIn(2)), { maxLength: 2 }),
    pin: fc.tuple(oneIn(12), upTo(14)).map(([yes, time]) => (yes ? time : undefined)),
  })
  const bike = fc.record({
    weight: upTo(5),
    release: fc.tuple(oneIn(3), upTo(6)).map(([yes, time]) => (yes ? time : 0)),
    due: fc.tuple(oneIn(3), upTo(15)).map(([yes, time]) => (yes ? time : undefined)),
    latePerUnit: upTo(9),
    hold: fc.tuple(oneIn(2), upTo(tasks), upTo(tasks)),
    holdsBen: oneIn(6),
  })
  return fc
    .record({
      bikes: fc.array(bike, { minLength: 1, maxLength: bikes }),
      tasks: fc.array(fc.tuple(task, upTo(bikes)), { maxLength: tasks }),
      technicians: fc.integer({ min: 2, max: 3 }),
      benKeeps: oneIn(2),
      pace: fc.constantFrom(1, 1.3, 0.8),
      objective: objective
        ? fc.constant(objective)
        : fc.constantFrom('weighted-ready' as const, 'makespan' as const),
      seed: upTo(1000),
    })
    .map((drawn) => {
      const place = drawn.tasks.map(([, at]) => at % drawn.bikes.length)
      const raw: PlanRawInput = {
        objective: drawn.objective,
        seed: drawn.seed,
        resources: {
          technician: drawn.technicians,
          lift: 1,
          ...(workshop ? { asha: 1, ben: drawn.benKeeps ? { capacity: 1, clock: 'short' } : 1 } : {}),
        },
        ...(workshop
          ? {
              calendars: { shop: days(8, 12), short: days(6, 12) },
              pace: { ben: drawn.pace },
              fixed: Object.fromEntries(
                drawn.tasks.flatMap(([{ pin, release }], at) => {
                  const from = Math.max(release, drawn.bikes[place[at]!]!.release)
                  return pin === undefined ? [] : [[`t${at}`, { start: from + pin }]]
                }),
              ),
            }
          : {}),
        bikes: drawn.bikes.map(({ weight, release, due, latePerUnit, hold, holdsBen }, bike) => {
          const own = place.flatMap((of, at) => (of === bike ? [at] : []))
          const ends = [hold[1], hold[2]].map((at) => own[at % Math.max(1, own.length)] ?? 0)
          return {
            id: `b${bike}`,
            weight,
            release,
            ...(workshop && due !== undefined ? { due, latePerUnit } : {}),
            tasks: own.map((at) => {
              const [one] = drawn.tasks[at]!
              const after = one.after.flatMap(([other, near]) => {
                const before = near
                  ? own.filter((mine) => mine < at)
                  : [...place.keys()].filter((any) => any < at)
                return before.length > 0 ? [`t${before[other % before.length]}`] : []
              })
              return {
                id: `t${at}`,
                duration: one.duration,
                release: one.release,
                uses: { technician: one.technician, ...(one.lift ? { lift: 1 } : {}) },
                after: [...new Set(after)],
                ...(workshop
                  ? { by: one.by, pausable: one.pausable, ...(one.clock ? { clock: 'shop' } : {}) }
                  : {}),
              }
            }),
            holds:
              workshop && hold[0] && own.length > 0
                ? [
                    {
                      resource: holdsBen ? ben : 'lift',
                      from: `t${Math.min(...ends)}`,
                      to: `t${Math.max(...ends)}`,
                    },
                  ]
                : [],
          }
        }),
      }
      return planInput.parse(raw)
    })
}

/** Open for `hours` of every `day` units, for long enough. */
function days(hours: number, day: number): [number, number][] {
  return Array.from({ length: 12 }, (_, at) => [at * day, at * day + hours])
}
