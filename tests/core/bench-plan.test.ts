import { describe, expect, it } from 'vitest'
import type { Bench, BenchBike, BenchPerson } from '../../lib/core/plan/bench-input'
import { benchPlan } from '../../lib/core/plan/bench-plan'
import type { BikeTask } from '../../lib/core/plan/bike-tasks'
import { momentOf, openTimes, unitOf } from '../../lib/core/plan/working-time'
import { CalcProblem } from '../../lib/core/quantity/problem'

const thursday = '2026-11-26'
const week = { weekdays: [1, 2, 3, 4, 5], fromMinute: 9 * 60, toMinute: 17 * 60 }
const open = openTimes({ startsOn: thursday, days: 40, week, off: [] })
const at = (day: string, hour: number) => unitOf(thursday, { day, minute: hour * 60 })

const person = (id: string, over: Partial<BenchPerson> = {}): BenchPerson => ({
  ...{ id, name: id, skills: null, pace: 1, atTheBike: 1, open },
  ...over,
})
const task = (key: string, hours: number, over: Partial<BikeTask> = {}): BikeTask => ({
  ...{ key, kind: 'work', title: key, hours, jobs: [key], after: [], skill: null, onLift: true },
  ...over,
})
const bike = (viewingNo: number, tasks: BikeTask[], over: Partial<BenchBike> = {}): BenchBike => ({
  ...{ id: `b${viewingNo}`, viewingNo, tasks, keptOnLift: null, dayPrice: 200, due: null },
  ...{ partsIn: {}, running: [] },
  ...over,
})
const bench = (bikes: BenchBike[], over: Partial<Bench> = {}): Bench => ({
  ...{ now: at(thursday, 9), people: [person('asha')], lifts: 1, bikes, pins: [] },
  ...over,
})
const planned = (of: Bench, spreads = {}) => benchPlan({ bench: of, spreads, effort: 500 })
const moments = (plan: ReturnType<typeof planned>) =>
  Object.fromEntries(
    plan.tasks.map(({ id, start, end }) => [id, [start, end].map((unit) => momentOf(thursday, unit))]),
  )
const hourAt = (hours: number) => at(thursday, hours)
const hour = (day: string, hours: number) => ({ day, minute: hours * 60 })

describe('the bench plan', () => {
  it('has a tank that is sealed on Thursday afternoon and hardens for a day refitted on Monday by ten', () => {
    const tank = bike(1, [
      task('seal', 2),
      task('harden', 24, { kind: 'wait', after: ['seal'], onLift: false }),
      task('refit', 1, { after: ['harden'] }),
    ])
    const plan = planned(bench([tank], { now: at(thursday, 15) }))
    expect(moments(plan)).toEqual({
      '1/seal': [hour(thursday, 15), hour(thursday, 17)],
      '1/harden': [hour(thursday, 17), hour('2026-11-27', 17)],
      '1/refit': [hour('2026-11-30', 9), hour('2026-11-30', 10)],
    })
    expect(plan.bikes).toMatchObject([
      { ready: at('2026-11-30', 10), why: { on: 'hardening', task: 'harden', until: at('2026-11-27', 17) } },
    ])
  })

  it('takes the bike first whose day costs most for its hours, and says whom the other waits for', () => {
    const plan = planned(
      bench([bike(1, [task('long', 14)]), bike(2, [task('short', 6)], { dayPrice: 150 })], { lifts: 2 }),
    )
    // Smith's ratio: 150 for 6 hours is more than 200 for 14.
    expect(plan.tasks.map(({ id }) => id)).toEqual(['2/short', '1/long'])
    expect(plan.bikes.find(({ id }) => id === 'b1')?.why).toEqual({
      ...{ on: 'person', person: 'asha', bike: 'b2', until: at(thursday, 15) },
    })
    const until = (units: number) => (units - at(thursday, 9)) / 96
    const [one, two] = plan.bikes
    expect(plan.stands).toBeCloseTo(200 * until(one!.ready) + 150 * until(two!.ready), 9)
  })

  it('puts a promised bike before all else', () => {
    const plan = planned(
      bench([
        bike(1, [task('long', 14)], { due: at('2026-11-27', 15), dayPrice: 1 }),
        bike(2, [task('short', 1)], { dayPrice: 900 }),
      ]),
    )
    expect(plan.bikes.find(({ id }) => id === 'b1')).toMatchObject({ ready: at('2026-11-27', 15) })
  })

  it('gives a kind of work to whom it is known to, and to anybody where nobody knows it', () => {
    const people = [person('asha', { skills: ['engine'] }), person('ben', { skills: ['brakes'] })]
    const plan = planned(
      bench(
        [bike(1, [task('pads', 1, { skill: 'brakes' })]), bike(2, [task('loom', 1, { skill: 'electrics' })])],
        { people, lifts: 2 },
      ),
    )
    const of = (id: string) => plan.tasks.find((one) => one.id === id)
    expect(of('1/pads')).toMatchObject({ person: 'ben', nobodyAble: false })
    expect(of('2/loom')).toMatchObject({ nobodyAble: true })
  })

  it('stretches work by the pace of a person and by what of the day is not spent at the bike', () => {
    const slow = person('ben', { pace: 1.5, atTheBike: 0.75 })
    const plan = planned(bench([bike(1, [task('pads', 2)])], { people: [slow] }))
    expect(moments(plan)).toEqual({ '1/pads': [hour(thursday, 9), hour(thursday, 13)] })
  })

  it('opens nothing before the parts are in, and says so', () => {
    const until = at('2026-12-01', 0)
    const tank = bike(
      1,
      [
        task('open:tank', 1, { kind: 'open', jobs: ['boots'] }),
        task('job:boots', 1, { jobs: ['boots'], after: ['open:tank'] }),
      ],
      { partsIn: { boots: until } },
    )
    const plan = planned(bench([tank]))
    expect(moments(plan)['1/open:tank']?.[0]).toEqual(hour('2026-12-01', 9))
    expect(plan.bikes[0]?.why).toEqual({ on: 'parts', job: 'boots', until })
  })

  it('keeps a lift taken from the wheel coming out until it is in again', () => {
    const wheel = bike(
      1,
      [
        task('open:wheel', 1, { kind: 'open' }),
        task('away', 24, { kind: 'away', after: ['open:wheel'], onLift: false }),
        task('back:wheel', 1, { kind: 'put back', after: ['away'] }),
      ],
      { keptOnLift: { from: 'open:wheel', to: 'back:wheel' }, dayPrice: 500 },
    )
    const plan = planned(bench([wheel, bike(2, [task('pads', 2)], { dayPrice: 10 })]))
    const [begins] = moments(plan)['2/pads']!
    expect(begins).toEqual(hour('2026-11-27', 11))
    expect(plan.bikes.find(({ id }) => id === 'b2')?.why).toMatchObject({ on: 'lift', bike: 'b1' })
    expect(plan.lifts).toEqual([
      [
        { bike: 'b1', from: at(thursday, 9), to: at('2026-11-27', 11) },
        { bike: 'b2', from: at('2026-11-27', 11), to: at('2026-11-27', 13) },
      ],
    ])
  })

  it('goes on with what somebody is at, where the shop is open', () => {
    const bikes = [
      bike(1, [task('job:long', 14, { jobs: ['long'] })], { running: [{ job: 'long', person: 'asha' }] }),
      bike(2, [task('short', 1)], { dayPrice: 900 }),
    ]
    expect(planned(bench(bikes)).tasks[0]?.id).toBe('1/job:long')
    expect(planned(bench(bikes, { now: at(thursday, 6) })).tasks[0]?.id).toBe('2/short')
  })

  it('is made all the same where more clocks run than there are lifts', () => {
    const people = [person('asha'), person('ben')]
    const at = (viewingNo: number, who: string) =>
      bike(viewingNo, [task('job:pads', 2, { jobs: ['pads'] })], { running: [{ job: 'pads', person: who }] })
    const plan = planned(bench([at(1, 'asha'), at(2, 'ben')], { people, lifts: 1 }))
    expect(plan.tasks.map(({ start }) => start)).toEqual([hourAt(9), hourAt(11)])
  })

  it('does not say what a better order could save while a promise is broken: the late days are no money', () => {
    const late = bike(1, [task('long', 14)], { due: hourAt(10) })
    expect(planned(bench([late, bike(2, [task('b', 2)])])).couldSave).toBeNull()
    expect(planned(bench([bike(1, [task('a', 2)], { due: hourAt(12) })])).couldSave).toBe(0)
  })

  it('is made around what is settled by hand, and refuses what cannot stand', () => {
    const two = [bike(1, [task('a', 2)]), bike(2, [task('b', 2)])]
    const pins = [{ task: '1/a', start: at('2026-11-27', 10), person: null }]
    const plan = planned(bench(two, { pins }))
    expect(moments(plan)['1/a']?.[0]).toEqual(hour('2026-11-27', 10))
    expect(plan.tasks.find(({ id }) => id === '1/a')?.isPinned).toBe(true)
    expect(plan.bikes.find(({ id }) => id === 'b1')?.why).toMatchObject({ on: 'pin', task: 'a' })
    const atNight = [{ task: '1/a', start: at('2026-11-27', 3), person: null }]
    expect(() => planned(bench(two, { pins: atNight }))).toThrow(CalcProblem)
  })

  it('is empty without people, and has a bike without work ready now', () => {
    expect(planned(bench([bike(1, [task('a', 1)])], { people: [] }))).toMatchObject({ tasks: [], bikes: [] })
    const [nothing] = planned(bench([bike(1, [])])).bikes
    expect(nothing).toMatchObject({ ready: at(thursday, 9), why: { on: 'nothing' }, stands: 0 })
  })
})

describe('the dates of the bench plan', () => {
  it('are those of the plan where the hours are certain', () => {
    const [one] = planned(bench([bike(1, [task('a', 3)])], { now: at(thursday, 9) })).bikes
    const ready = at(thursday, 12)
    expect(one?.readyBy).toEqual({ low: ready, middle: ready, promised: ready, high: ready })
  })

  it('follow the spread of the hours: eight of ten is the eighth tenth', () => {
    // From half to one and a half times its four hours, evenly: eight of ten are done in 1.3 times as long.
    const spread = [0.5, 0.75, 1, 1.25, 1.5]
    const [one] = planned(bench([bike(1, [task('a', 4)])]), { b1: spread }).bikes
    expect(momentOf(thursday, one!.readyBy.promised!)).toEqual({ day: thursday, minute: 9 * 60 + 315 })
    expect(momentOf(thursday, one!.readyBy.middle!)).toEqual({ day: thursday, minute: 9 * 60 + 240 })
  })

  it('of a bike that waits for another carry the doubt about that other', () => {
    const spread = [0.5, 0.75, 1, 1.25, 1.5]
    const plan = planned(
      bench([bike(1, [task('a', 4)], { dayPrice: 900 }), bike(2, [task('b', 2)], { dayPrice: 1 })]),
      { b1: spread },
    )
    const second = plan.bikes.find(({ id }) => id === 'b2')!
    expect(second.readyBy.low).toBeLessThan(second.ready)
    expect(second.readyBy.high).toBeGreaterThan(second.ready)
  })

  it('say how sure a promised day is', () => {
    const spread = [0.5, 0.75, 1, 1.25, 1.5]
    const due = at(thursday, 13)
    const [one] = planned(bench([bike(1, [task('a', 4)], { due })]), { b1: spread }).bikes
    expect(one?.chanceOfDue).toBeCloseTo(0.5, 2)
  })
})
