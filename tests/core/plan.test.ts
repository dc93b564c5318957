import { describe, expect, it, test } from 'vitest'
import { plan } from '../../lib/core/plan/plan'
import { type PlanRawInput, planInput } from '../../lib/core/plan/plan.input'
import { calcHere } from '../support/calc-command'
import { expectKept } from '../support/plan-checker'

/** Hours from Monday 00:00; the shop is open from nine to five on weekdays, for four weeks. */
const weekdays = Array.from({ length: 28 }, (_, day) => day)
  .filter((day) => day % 7 < 5)
  .map((day): [number, number] => [24 * day + 9, 24 * day + 17])
const day = (number: number, hour: number) => 24 * number + hour
const [monday, thursday, nextMonday] = [0, 3, 7]

function planned(raw: PlanRawInput) {
  const input = planInput.parse(raw)
  const answer = plan(input)
  expectKept(input, answer)
  return answer
}

type Bike = PlanRawInput['bikes'][number]
type Task = NonNullable<Bike['tasks']>[number]

/** One bike and one technician, with what a case is about. */
const small = (tasks: Task[], more: Partial<PlanRawInput> = {}, bike: Partial<Bike> = {}): PlanRawInput => ({
  objective: 'weighted-ready',
  resources: { technician: 1, lift: 1 },
  calendars: { shop: weekdays },
  bikes: [{ id: 'A', tasks, ...bike }],
  ...more,
})

describe('a plan', () => {
  it('is that of the contract: the cure runs by itself, the second release is kept', () => {
    const answer = planned({
      resources: { technician: 2, lift: 1 },
      bikes: [
        {
          id: 'A',
          weight: 30,
          release: 0,
          tasks: [
            { id: 'a1', duration: 4, uses: { technician: 1, lift: 1 } },
            { id: 'a2', duration: 24, uses: {}, after: ['a1'] },
            { id: 'a3', duration: 2, uses: { technician: 1 }, after: ['a2'], release: 30 },
          ],
        },
      ],
      objective: 'weighted-ready',
      seed: 1,
      effort: 5000,
    })
    expect(answer).toMatchObject({
      starts: { a1: 0, a2: 4, a3: 30 },
      ready: { A: 32 },
      objective: 960,
      lowerBound: 960,
    })
    expect(answer).not.toHaveProperty('by')
  })

  it('sealed on Thursday from three to five and cured for a day, is refitted on Monday by ten', () => {
    const { ready, starts } = planned(
      small([
        {
          id: 'seal',
          duration: 2,
          uses: { technician: 1 },
          clock: 'shop',
          release: day(thursday, 15),
        },
        { id: 'cure', duration: 24, after: ['seal'] },
        { id: 'refit', duration: 1, uses: { technician: 1 }, clock: 'shop', after: ['cure'] },
      ]),
    )
    // The cure ends on Friday at five, when the shop closes.
    expect(starts).toEqual({ seal: day(thursday, 15), cure: day(thursday, 17), refit: day(nextMonday, 9) })
    expect(ready).toEqual({ A: day(nextMonday, 10) })
  })

  it('without a bike is empty, and a bike without a task is ready when it is released', () => {
    expect(planned({ objective: 'makespan', bikes: [] })).toMatchObject({
      objective: 0,
      starts: {},
      ready: {},
    })
    expect(planned(small([], {}, { release: 7, weight: 3 }))).toMatchObject({
      objective: 21,
      ready: { A: 7 },
    })
  })

  it('stops work that may pause at closing and keeps its technician until it is done', () => {
    const answer = planned(
      small([
        { id: 'long', duration: 10, uses: { technician: 1 }, clock: 'shop', pausable: true },
        { id: 'short', duration: 3, uses: { technician: 1 }, after: ['long'] },
      ]),
    )
    expect(answer.starts).toEqual({ long: day(monday, 9), short: day(1, 11) })
  })

  it('starts work that may not pause when it can be done in one go', () => {
    const answer = planned(
      small([
        { id: 'first', duration: 5, uses: { technician: 1 }, clock: 'shop' },
        { id: 'whole', duration: 4, uses: { technician: 1 }, clock: 'shop', after: ['first'] },
      ]),
    )
    expect(answer.starts).toEqual({ first: 9, whole: day(1, 9) })
  })

  it('keeps to the hours of task and resource both', () => {
    const resources = { ramp: { capacity: 1, clock: 'noon' } }
    const calendars = { shop: weekdays, noon: [[12, 20] as [number, number]] }
    const answer = planned(
      small([{ id: 'a', duration: 3, uses: { ramp: 1 }, clock: 'shop' }], { resources, calendars }),
    )
    expect(answer.starts).toEqual({ a: 12 })
  })

  it('gives each to who is done first, at his pace', () => {
    const answer = planned(
      small([{ id: 'a', duration: 4, by: ['ben', 'asha'] }], {
        resources: { ben: 1, asha: 1 },
        pace: { ben: 1.1 },
      }),
    )
    expect(answer).toMatchObject({ by: { a: 'asha' }, ready: { A: 4 } })
    const pinned = planned(
      small([{ id: 'a', duration: 10, by: ['ben', 'asha'] }], {
        resources: { ben: 1, asha: 1 },
        pace: { ben: 1.1 },
        fixed: { a: { start: 8, by: 'ben' } },
      }),
    )
    expect(pinned).toMatchObject({ by: { a: 'ben' }, starts: { a: 8 }, ready: { A: 19 } })
  })

  it('leaves a bike on the lift that holds it, and takes no second for its own work', () => {
    const tasks = (id: string): Task[] => [
      { id: `${id}1`, duration: 2, uses: { lift: 1, technician: 1 } },
      { id: `${id}2`, duration: 10, after: [`${id}1`] },
      { id: `${id}3`, duration: 2, uses: { lift: 1, technician: 1 }, after: [`${id}2`] },
    ]
    const held = (id: string, weight: number): Bike => ({
      id,
      weight,
      tasks: tasks(id),
      holds: [{ resource: 'lift', from: `${id}1`, to: `${id}3` }],
    })
    const answer = planned({
      objective: 'weighted-ready',
      resources: { technician: 1, lift: 1 },
      bikes: [held('A', 1), held('B', 5)],
    })
    expect(answer.ready).toEqual({ A: 28, B: 14 })
  })

  it('puts a promise before weight where being late costs more', () => {
    const bike = (id: string, more: Partial<Bike>): Bike => ({
      id,
      tasks: [{ id: `${id}1`, duration: 5, uses: { technician: 1 } }],
      ...more,
    })
    const two = (due: object) =>
      planned({
        objective: 'weighted-ready',
        resources: { technician: 1 },
        bikes: [bike('A', { weight: 3 }), bike('B', { weight: 1, ...due })],
      })
    expect(two({})).toMatchObject({ ready: { A: 5, B: 10 }, objective: 25 })
    expect(two({ due: 6, latePerUnit: 4 })).toMatchObject({ ready: { A: 10, B: 5 }, objective: 35 })
  })

  it('plans around what is pinned', () => {
    const answer = planned(
      small(
        [
          { id: 'a', duration: 3, uses: { technician: 1 } },
          { id: 'b', duration: 3, uses: { technician: 1 } },
        ],
        { fixed: { b: { start: 2 } } },
      ),
    )
    expect(answer.starts).toEqual({ a: 5, b: 2 })
  })
})

describe('refused, at the key that is wrong', () => {
  const task = (more: Partial<Task> = {}): Task => ({
    id: 'a',
    duration: 2,
    uses: { technician: 1 },
    ...more,
  })
  const other = (more: Partial<Task> = {}): Task => ({
    id: 'b',
    duration: 2,
    uses: { technician: 1 },
    ...more,
  })
  test.each<[string, PlanRawInput, (string | number)[], RegExp]>([
    [
      'a ring',
      small([task({ after: ['b'] }), other({ after: ['a'] })]),
      ['bikes', 0, 'tasks', 1, 'after', 0],
      /a → b → a|b → a → b/,
    ],
    [
      'after an unknown task',
      small([task({ after: ['x'] })]),
      ['bikes', 0, 'tasks', 0, 'after', 0],
      /no task x/,
    ],
    [
      'a demand above capacity',
      small([task({ uses: { technician: 2 } })]),
      ['bikes', 0, 'tasks', 0, 'uses', 'technician'],
      /needs 2 of technician; there is 1/,
    ],
    [
      'an unknown resource',
      small([task({ uses: { oven: 1 } })]),
      ['bikes', 0, 'tasks', 0, 'uses', 'oven'],
      /no resource oven/,
    ],
    [
      'an unknown person',
      small([task({ by: ['eve'] })]),
      ['bikes', 0, 'tasks', 0, 'by', 0],
      /no resource eve/,
    ],
    [
      'a person of whom there are two',
      small([task({ by: ['eve'] })], { resources: { technician: 1, eve: 2 } }),
      ['bikes', 0, 'tasks', 0, 'by', 0],
      /not one alone/,
    ],
    [
      'an unknown calendar',
      small([task({ clock: 'x' })]),
      ['bikes', 0, 'tasks', 0, 'clock'],
      /no calendar x/,
    ],
    [
      'an unknown calendar of a resource',
      small([], { resources: { lift: { capacity: 1, clock: 'x' } } }),
      ['resources', 'lift', 'clock'],
      /no calendar x/,
    ],
    [
      'open times out of order',
      small([], { calendars: { shop: [[8, 10], [4, 6]] } }), // biome-ignore format: one line reads better
      ['calendars', 'shop', 1],
      /before the one above/,
    ],
    ['a pace for nobody', small([], { pace: { eve: 2 } }), ['pace', 'eve'], /no resource eve/],
    ['a task twice', small([task(), task()]), ['bikes', 0, 'tasks', 1, 'id'], /stands twice/],
    [
      'a bike twice',
      small([], { bikes: [{ id: 'A' }, { id: 'A' }] }),
      ['bikes', 1, 'id'],
      /bike A stands twice/,
    ],
    [
      'a hold of an unknown resource',
      small([task()], {}, { holds: [{ resource: 'oven', from: 'a', to: 'a' }] }),
      ['bikes', 0, 'holds', 0, 'resource'],
      /no resource oven/,
    ],
    [
      'a hold to a task of no bike',
      small([task()], {}, { holds: [{ resource: 'lift', from: 'a', to: 'x' }] }),
      ['bikes', 0, 'holds', 0, 'to'],
      /A has no task x/,
    ],
    [
      'a hold that ends before it begins',
      small([task(), other({ after: ['a'] })], {}, { holds: [{ resource: 'lift', from: 'b', to: 'a' }] }),
      ['bikes', 0, 'holds', 0, 'to'],
      /ends before b/,
    ],
    [
      'work in one go longer than any open time',
      small([task({ duration: 9, clock: 'shop' })]),
      ['bikes', 0, 'tasks', 0, 'duration'],
      /longer than any open time; the longest is 8/,
    ],
    [
      'work behind the last open time',
      small([task({ clock: 'shop', release: 24 * 28 })]),
      ['bikes', 0, 'tasks', 0, 'clock'],
      /open times end/,
    ],
    ['a pin of no task', small([task()], { fixed: { x: { start: 0 } } }), ['fixed', 'x'], /no task x/],
    [
      'a pin before the release',
      small([task({ release: 5 })], { fixed: { a: { start: 4 } } }),
      ['fixed', 'a', 'start'],
      /not released before 5/,
    ],
    [
      'a pin on someone who does not do it',
      small([task({ by: ['ben'] })], { resources: { technician: 1, ben: 1, eve: 1 }, fixed: { a: { start: 0, by: 'eve' } } }), // biome-ignore format: one line reads better
      ['fixed', 'a', 'by'],
      /not done by eve/,
    ],
    [
      'a pin while closed',
      small([task({ clock: 'shop' })], { fixed: { a: { start: 8 } } }),
      ['fixed', 'a', 'start'],
      /a cannot start at 8/,
    ],
    [
      'a pin before what it waits for',
      small([task(), other({ after: ['a'] })], { fixed: { b: { start: 1 } } }),
      ['fixed', 'b', 'start'],
      /b cannot start at 1: what it comes after/,
    ],
    [
      'two pins on one technician',
      small([task(), other()], { fixed: { a: { start: 0 }, b: { start: 1 } } }),
      ['fixed', 'b', 'start'],
      /other pins/,
    ],
    [
      'a pin that leaves no time for what it waits for',
      small([task(), other(), { id: 'c', duration: 1, after: ['a', 'b'] }], { fixed: { c: { start: 3 } } }),
      ['fixed', 'c'],
      /No plan was found that keeps what is pinned: c/,
    ],
  ])('%s', async (_, input, path, says) => {
    const run = await calcHere(['plan'], JSON.stringify(input))
    expect(run).toMatchObject({ status: 2, out: '' })
    expect(JSON.parse(run.err)).toMatchObject({ path, error: expect.stringMatching(says) })
    expect(JSON.parse(run.err).hint).not.toBe('')
  })
})
