import { z } from 'zod'
import type { Catalogue } from '../core/checks/catalogue'
import { readCatalogue } from './catalogue'
import { deed, requireFresh } from './deed'
import { dayOf, idOf, lineOf, lineOrNull, minuteOf, most } from './fields'
import { refuse, refuseField } from './refusal'
import { ownedStages } from './stage-names'

export const promiseInput = z.strictObject({
  bike: idOf,
  /** 0 where nothing was promised yet. */
  version: z.coerce.number().int().min(0),
  /** Left empty to take the promise back. */
  day: lineOrNull(10).pipe(z.union([z.null(), dayOf])),
  note: lineOrNull(most.line),
})

/** The day a bike is promised to be ready. Whatever was promised comes before all else at the bench. */
export const promiseDay = deed('plan:set', promiseInput, async (input, { tx, now, who }) => {
  const { bike: bikeId, version, day } = input
  const bike = await tx.bike.findUnique({ where: { id: bikeId } })
  if (!bike) return refuse('not-found', 'That bike is not there.')
  if (!(ownedStages as readonly string[]).includes(bike.stage))
    return refuse('rule', 'Only a bike that the shop owns can be promised.')
  const set = { day, note: input.note ?? '', personId: who.personId, at: now }
  const before = await tx.promised.findUnique({ where: { bikeId } })
  if (version === 0) {
    if (before) requireFresh(0, { version: String(before.version), day: before.day ?? '' })
    await tx.promised.create({ data: { bikeId, ...set } })
  } else {
    const { count } = await tx.promised.updateMany({
      where: { bikeId, version },
      data: { ...set, version: { increment: 1 } },
    })
    requireFresh(count, { version: String(before?.version ?? 0), day: before?.day ?? '' })
  }
  return { answer: {}, event: { bikeId, body: { did: 'promised', day, note: set.note } } }
})

/** The key of a task within its bike, as `tasksOfBike` makes it. */
const taskOf = lineOf(most.line, 'Choose the task.')

export const pinInput = z.strictObject({
  id: idOf,
  bike: idOf,
  task: taskOf,
  day: dayOf,
  at: minuteOf,
  /** Left empty: whoever the plan finds. */
  doer: lineOrNull(60).pipe(z.union([z.null(), idOf])),
})

/** Settles when a task begins and, where it is said, who does it; the plan is made around it. */
export const pinTask = deed('plan:set', pinInput, async (input, { tx, now, who }) => {
  const { id, bike: bikeId, task, day, at: minute, doer } = input
  if (!(await tx.bike.findUnique({ where: { id: bikeId } })))
    return refuse('not-found', 'That bike is not there.')
  const person = doer && (await tx.person.findFirst({ where: { id: doer, leftAt: null } }))
  if (doer && !person) return refuse('not-found', 'That person is not here any more.')
  if (await tx.planPin.findUnique({ where: { id } })) return refuse('rule', 'This was settled already.')
  const title = titleOf(task, await readCatalogue(tx))
  if (title === null) return refuseField('task', 'Choose one of its tasks.')
  await tx.planPin.updateMany({ where: { bikeId, task, withdrawnAt: null }, data: { withdrawnAt: now } })
  await tx.planPin.create({
    data: { id, bikeId, task, title, day, minute, doer, personId: who.personId, at: now },
  })
  return {
    answer: {},
    event: { bikeId, body: { did: 'pinned', title, day, minute, doer: person ? person.name : null } },
  }
})

/** What a task is called; null where no task has such a key. */
function titleOf(task: string, { jobs, operations }: Catalogue): string | null {
  const [kind, key] = task.split(':')
  if (task === 'more') return 'What may turn up'
  if (task === 'prove') return 'Checks that prove it'
  if (kind === 'job') return jobs.find((job) => job.key === key)?.title ?? null
  if (kind !== 'open' && kind !== 'back') return null
  const step = operations.find((one) => one.key === key)?.title
  if (!step) return null
  return kind === 'open' ? step : `${step}: back together`
}

export const unpinInput = z.strictObject({ bike: idOf, task: taskOf })

/** The plan may move the task again. */
export const unpinTask = deed('plan:set', unpinInput, async ({ bike: bikeId, task }, { tx, now }) => {
  const pin = await tx.planPin.findFirst({ where: { bikeId, task, withdrawnAt: null } })
  if (!pin) return refuse('not-found', 'What was settled of that task is not there any more.')
  await tx.planPin.updateMany({ where: { bikeId, task, withdrawnAt: null }, data: { withdrawnAt: now } })
  return { answer: {}, event: { bikeId, body: { did: 'unpinned', title: pin.title } } }
})
