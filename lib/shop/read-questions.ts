import type { Prisma } from '../data/generated/client'
import type { Db, Store } from '../data/store'
import { type BikeHead, bikeHead, headOf } from './bike-head'
import type { QuestionAnswer, QuestionFigures } from './questions'
import { minutesOf, underWayStates } from './spells'

/** What the bench sees of a question: there is no money in it. */
export type QuestionShown = {
  id: string
  version: number
  asks: string
  moreHours: number | null
  undone: string
  keptWhere: string
  /** Title of the work that led to it. */
  job: string | null
  /** That work is begun and not finished. */
  jobUnderWay: boolean
  who: string
  at: string
  answered: {
    answer: QuestionAnswer
    note: string
    /** Stopped, and the work that led to it ended with it. */
    jobEnds: boolean
    budgetHours: number | null
    who: string
    at: string
  } | null
}

/** Without its figures, which are money and not even read here. */
export const questionsShown = {
  orderBy: { askedAt: 'desc' },
  omit: { figures: true },
} as const satisfies Prisma.Bike$questionsArgs

type QuestionRow = Omit<Prisma.QuestionGetPayload<object>, 'figures'>

export function questionShown(
  row: QuestionRow,
  {
    name,
    runs,
  }: {
    name: (id: string | null) => string
    runs: readonly { id: string; title: string; state: string }[]
  },
): QuestionShown {
  const { id, version, asks, moreHours, undone, keptWhere, runId, askedBy, askedAt } = row
  const { answer, answerNote, budgetHours, answeredBy, answeredAt } = row
  const run = runs.find((one) => one.id === runId)
  return {
    id,
    version,
    asks,
    moreHours,
    undone,
    keptWhere,
    job: run?.title ?? null,
    jobUnderWay: run !== undefined && underWayStates.includes(run.state),
    who: name(askedBy),
    at: askedAt.toISOString(),
    answered:
      answer === null || answeredAt === null
        ? null
        : {
            answer: answer as QuestionAnswer,
            note: answerNote,
            jobEnds: answer === 'stop' && run?.state === 'stopped',
            budgetHours,
            who: name(answeredBy),
            at: answeredAt.toISOString(),
          },
  }
}

/** A question that waits for its answer, with what it means in money. */
export type OpenQuestion = QuestionShown & { bike: BikeHead; figures: QuestionFigures | null }

/** Questions that wait for a manager, oldest first; of one bike, or of all. */
export async function readOpenQuestions(db: Db, only: { bikeId?: string } = {}): Promise<OpenQuestion[]> {
  const rows = await db.question.findMany({
    where: { ...only, answeredAt: null },
    include: { bike: { select: bikeHead } },
    orderBy: { askedAt: 'asc' },
  })
  if (rows.length === 0) return []
  const runIds = rows.flatMap(({ runId }) => runId ?? [])
  const [people, runs] = await Promise.all([
    db.person.findMany({ select: { id: true, name: true } }),
    db.jobRun.findMany({
      where: { id: { in: runIds } },
      select: { id: true, title: true, state: true },
    }),
  ])
  const names = new Map(people.map(({ id, name }) => [id, name]))
  const name = (id: string | null) => names.get(id ?? '') ?? 'somebody'
  return rows.map(({ bike, figures, ...row }) => ({
    ...questionShown(row, { name, runs }),
    bike: headOf(bike),
    figures: figures === null ? null : (JSON.parse(figures) as QuestionFigures),
  }))
}

export type WorkUnderWay = {
  id: string
  title: string
  paused: boolean
  minutes: number
  budgetHours: number | null
  /** Whose clock runs. */
  atIt: readonly string[]
  bike: BikeHead
}

/** Work that is begun and not finished on any bike, what goes on before what is paused. */
export async function readUnderWay({ db }: Store, now: Date): Promise<WorkUnderWay[]> {
  const [runs, people] = await Promise.all([
    db.jobRun.findMany({
      where: { state: { in: [...underWayStates] } },
      include: { spells: true, bike: { select: bikeHead } },
      orderBy: [{ state: 'desc' }, { startedAt: 'asc' }],
    }),
    db.person.findMany({ select: { id: true, name: true } }),
  ])
  const names = new Map(people.map(({ id, name }) => [id, name]))
  return runs.map(({ id, title, state, budgetHours, spells, bike }) => ({
    id,
    title,
    paused: state === 'paused',
    minutes: spells.reduce((sum, spell) => sum + minutesOf(spell, now), 0),
    budgetHours,
    atIt: spells
      .filter(({ endedAt }) => endedAt === null)
      .map(({ personId }) => names.get(personId) ?? 'somebody'),
    bike: headOf(bike),
  }))
}
