import { z } from 'zod'
import type { Figures } from '../core/board/figures.input'
import { type Skill, skills } from '../core/plan/bike-tasks'
import type { TimeOff } from '../core/plan/working-time'
import type { Db } from '../data/store'
import { deed, requireFresh } from './deed'
import {
  dayOf,
  idOf,
  lineOf,
  lineOrNull,
  minuteOf,
  most,
  numberOrNull,
  typedMinute,
  weekdaysOf,
} from './fields'
import { refuse } from './refusal'

const ticked = z.enum(['yes']).optional()

/** A time that may be left empty: null. */
const minuteOrNull = lineOrNull(5).pipe(z.union([z.null(), minuteOf]))

export const setPersonWorkInput = z
  .strictObject({
    person: idOf,
    /** 0 where nothing was set yet. */
    version: z.coerce.number().int().min(0),
    atBench: ticked,
    /** No kind at all stands for every kind. */
    skills: z
      .array(z.enum(skills))
      .default([])
      .transform((chosen) => [...new Set(chosen)]),
    pace: numberOrNull({ min: 0.2, max: 5, message: 'Give a factor, like 1.2 for a fifth slower.' }),
    weekdays: weekdaysOf.optional(),
    from: minuteOrNull,
    to: minuteOrNull,
  })
  .superRefine(({ from, to }, context) => {
    const at = (field: string, message: string) =>
      context.addIssue({ code: 'custom', path: [field], message })
    if ((from === null) !== (to === null)) at(from === null ? 'from' : 'to', 'Give both times, or neither.')
    else if (from !== null && to !== null && from >= to) at('to', 'Work must end after it begins.')
  })

/** What somebody does at the bench, how fast, and when; what is left empty is as the shop has it. */
export const setPersonWork = deed('plan:set', setPersonWorkInput, async (input, { tx, now, who }) => {
  const { person: personId, version, from, to } = input
  const person = await tx.person.findFirst({ where: { id: personId, leftAt: null } })
  if (!person) return refuse('not-found', 'That person is not here any more.')
  const set = {
    atBench: input.atBench === 'yes',
    skills: input.skills.length > 0 ? JSON.stringify(input.skills) : null,
    pace: input.pace ?? 1,
    weekdays: input.weekdays ? JSON.stringify(input.weekdays) : null,
    fromMinute: from,
    toMinute: to,
    setBy: who.personId,
    at: now,
  }
  const before = await tx.personWork.findUnique({ where: { personId } })
  if (version === 0) {
    if (before) requireFresh(0, { version: String(before.version), pace: String(before.pace) })
    await tx.personWork.create({ data: { personId, ...set } })
  } else {
    const { count } = await tx.personWork.updateMany({
      where: { personId, version },
      data: { ...set, version: { increment: 1 } },
    })
    requireFresh(count, { version: String(before?.version ?? 0), pace: String(before?.pace ?? 1) })
  }
  const { setBy: _, at: __, ...body } = set
  return { answer: {}, event: { bikeId: null, body: { did: 'person', person: person.name, ...body } } }
})

export const noteTimeOffInput = z
  .strictObject({
    id: idOf,
    /** Left empty for the whole shop. */
    person: lineOrNull(60).pipe(z.union([z.null(), idOf])),
    what: lineOf(most.line, 'Say what it is, like holiday or a customer’s own bike.'),
    fromDay: dayOf,
    toDay: lineOrNull(10).pipe(z.union([z.null(), dayOf])),
    from: minuteOrNull,
    to: minuteOrNull,
  })
  .superRefine(({ fromDay, toDay, from, to }, context) => {
    const at = (field: string, message: string) =>
      context.addIssue({ code: 'custom', path: [field], message })
    if (toDay !== null && toDay < fromDay) at('toDay', 'The last day must not be before the first.')
    if (from !== null && to !== null && from >= to) at('to', 'It must end after it begins.')
  })

/** A time in which nobody, or one person, works on the shop's bikes. */
export const noteTimeOff = deed('plan:set', noteTimeOffInput, async (input, { tx, now, who }) => {
  const { id, person, what, fromDay, from, to } = input
  const forWhom = person && (await tx.person.findFirst({ where: { id: person, leftAt: null } }))
  if (person && !forWhom) return refuse('not-found', 'That person is not here any more.')
  if (await tx.timeOff.findUnique({ where: { id } })) return refuse('rule', 'This was noted already.')
  const toDay = input.toDay ?? fromDay
  const noted = { forPerson: person, what, fromDay, toDay, fromMinute: from, toMinute: to }
  await tx.timeOff.create({ data: { id, ...noted, personId: who.personId, at: now } })
  return {
    answer: {},
    event: {
      bikeId: null,
      body: { did: 'time off', ...noted, forPerson: forWhom ? forWhom.name : null },
    },
  }
})

export const withdrawTimeOffInput = z.strictObject({ id: idOf })

/** The time is worked after all. */
export const withdrawTimeOff = deed('plan:set', withdrawTimeOffInput, async ({ id }, { tx, now }) => {
  const { count } = await tx.timeOff.updateMany({
    where: { id, withdrawnAt: null },
    data: { withdrawnAt: now },
  })
  if (count === 0) return refuse('not-found', 'That time is not noted any more.')
  const { what, fromDay } = await tx.timeOff.findUniqueOrThrow({ where: { id } })
  return { answer: {}, event: { bikeId: null, body: { did: 'time off taken back', what, fromDay } } }
})

export type WorkShown = {
  person: string
  name: string
  version: number
  atBench: boolean
  /** Null for every kind. */
  skills: readonly Skill[] | null
  pace: number
  weekdays: readonly number[]
  fromMinute: number
  toMinute: number
  /** The shop's own hours hold. */
  ownHours: boolean
}

/** How everybody who is here works at the bench. Technicians do where nothing else is set; others where it is. */
export async function readBenchPeople(db: Db, { bench }: Pick<Figures, 'bench'>): Promise<WorkShown[]> {
  const [people, set] = await Promise.all([
    db.person.findMany({ where: { leftAt: null }, include: { roles: true }, orderBy: { name: 'asc' } }),
    db.personWork.findMany(),
  ])
  return people.map(({ id, name, roles }) => {
    const own = set.find(({ personId }) => personId === id)
    return {
      person: id,
      name,
      version: own?.version ?? 0,
      atBench: own?.atBench ?? roles.some(({ role }) => role === 'technician'),
      skills: own?.skills ? (JSON.parse(own.skills) as Skill[]) : null,
      pace: own?.pace ?? 1,
      weekdays: own?.weekdays ? (JSON.parse(own.weekdays) as number[]) : bench.weekdays,
      fromMinute: own?.fromMinute ?? bench.fromMinute,
      toMinute: own?.toMinute ?? bench.toMinute,
      ownHours: own !== undefined && (own.weekdays !== null || own.fromMinute !== null),
    }
  })
}

export type TimeOffShown = TimeOff & { id: string; person: string | null; name: string | null; what: string }

/** Times off that are not over on `today`, soonest first. */
export async function readTimesOff(db: Db, today: string): Promise<TimeOffShown[]> {
  const [rows, people] = await Promise.all([
    db.timeOff.findMany({
      where: { withdrawnAt: null, toDay: { gte: today } },
      orderBy: [{ fromDay: 'asc' }, { id: 'asc' }],
    }),
    db.person.findMany({ select: { id: true, name: true } }),
  ])
  return rows.map(({ id, forPerson, what, fromDay, toDay, fromMinute, toMinute }) => ({
    id,
    person: forPerson,
    name: people.find((one) => one.id === forPerson)?.name ?? null,
    what,
    fromDay,
    toDay,
    fromMinute,
    toMinute,
  }))
}

/** 9:00 to 17:00 as it is typed. */
export function hoursTyped({ fromMinute, toMinute }: Pick<WorkShown, 'fromMinute' | 'toMinute'>): string {
  return `${typedMinute(fromMinute)} to ${typedMinute(toMinute)}`
}
