import { describe, expect, it } from 'vitest'
import { type JobToPlan, type StepToPlan, tasksOfBike } from '../../lib/core/plan/bike-tasks'

const step = (key: string, hours: number, over: Partial<StepToPlan> = {}): StepToPlan => ({
  key,
  title: key,
  hours,
  needs: [],
  putBackShare: 0.5,
  keepsOnLift: false,
  ...over,
})
const job = (key: string, steps: string[], over: Partial<JobToPlan> = {}): JobToPlan => ({
  key,
  title: key,
  steps,
  hours: 1,
  spentHours: 0,
  underWay: false,
  awayDays: 0,
  wait: null,
  skill: null,
  onLift: true,
  ...over,
})

const steps = [
  step('tank', 2),
  step('carbs', 4, { needs: ['tank'] }),
  step('wheel', 1, { keepsOnLift: true }),
]
const asked = (jobs: JobToPlan[], over: object = {}) =>
  tasksOfBike({ jobs, steps, moreHours: 0, proveHours: 0, ...over })
const byKey = (tasks: ReturnType<typeof asked>['tasks']) =>
  Object.fromEntries(tasks.map(({ key, hours, after }) => [key, { hours, after }]))

describe('the tasks of a bike', () => {
  it('take off once what several jobs need, at the start, and put it back at the end', () => {
    const { tasks, keptOnLift } = asked([job('boots', ['carbs']), job('seal', ['tank'])])
    expect(byKey(tasks)).toEqual({
      'open:tank': { hours: 1, after: [] },
      'open:carbs': { hours: 2, after: ['open:tank'] },
      'job:boots': { hours: 1, after: ['open:tank', 'open:carbs'] },
      'job:seal': { hours: 1, after: ['open:tank'] },
      'back:tank': { hours: 1, after: ['job:boots', 'job:seal', 'back:carbs'] },
      'back:carbs': { hours: 2, after: ['job:boots'] },
    })
    expect(keptOnLift).toBeNull()
  })

  it('join the steps that exactly the same jobs need', () => {
    const { tasks } = asked([job('boots', ['carbs'])])
    expect(byKey(tasks)).toEqual({
      'open:tank': { hours: 3, after: [] },
      'job:boots': { hours: 1, after: ['open:tank'] },
      'back:tank': { hours: 3, after: ['job:boots'] },
    })
    expect(tasks[0]?.title).toBe('tank, carbs')
  })

  it('let what hardens harden before anything goes back on', () => {
    const wait = { title: 'Sealer hardens', hours: 24 }
    const { tasks } = asked([job('seal', ['tank'], { wait })])
    expect(byKey(tasks)['wait:seal']).toEqual({ hours: 24, after: ['job:seal'] })
    expect(byKey(tasks)['back:tank']?.after).toEqual(['wait:seal'])
  })

  it('have what is done elsewhere away between the opening and its own work', () => {
    const { tasks } = asked([job('paint', ['tank'], { awayDays: 5 })])
    expect(byKey(tasks)['away:paint']).toEqual({ hours: 120, after: ['open:tank'] })
    expect(byKey(tasks)['job:paint']?.after).toEqual(['away:paint'])
  })

  it('leave what was worked already out, opening first, and something of what is under way', () => {
    const { tasks } = asked([
      job('seal', ['tank'], { spentHours: 1.5, underWay: true }),
      job('pads', ['wheel'], { spentHours: 9, underWay: true }),
    ])
    const left = byKey(tasks)
    expect(left['open:tank']).toBeUndefined()
    expect(left['job:seal']).toEqual({ hours: 0.5, after: [] })
    expect(left['job:pads']?.hours).toBe(0.25)
    // It marks since when the bike is on its lift.
    expect(left['open:wheel']).toEqual({ hours: 0, after: [] })
  })

  it('stay on one lift from the first thing that keeps them there to the last that goes back', () => {
    const more = [...steps, step('fork', 2, { keepsOnLift: true })]
    const { tasks, keptOnLift } = tasksOfBike({
      jobs: [job('tyre', ['wheel']), job('seals', ['fork'])],
      steps: more,
      moreHours: 0,
      proveHours: 0,
    })
    expect(keptOnLift).toEqual({ from: 'open:wheel', to: 'back:wheel' })
    expect(byKey(tasks)['open:fork']?.after).toEqual(['open:wheel'])
    expect(byKey(tasks)['back:wheel']?.after).toEqual(['job:tyre', 'back:fork'])
  })

  it('have what may turn up before it goes back together, and the checks that prove it last', () => {
    const { tasks } = asked([job('seal', ['tank'])], { moreHours: 0.8, proveHours: 0.5 })
    expect(byKey(tasks).more).toEqual({ hours: 0.8, after: ['job:seal'] })
    expect(byKey(tasks)['back:tank']?.after).toEqual(['job:seal', 'more'])
    expect(byKey(tasks).prove?.after).toEqual(['open:tank', 'job:seal', 'more', 'back:tank'])
  })

  it('are none where nothing is to be done', () => {
    expect(asked([])).toEqual({ tasks: [], keptOnLift: null })
  })
})
