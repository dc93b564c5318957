import type { Check } from '../core/checks/catalogue'
import { type FrameLook, frameCheck, frameLook } from '../core/checks/frame-looks'
import type { IdentityPoint, MoneyWords, Register, RegisterAnswer } from '../core/checks/money-gate'
import type { Prisma } from '../data/generated/client'
import { asReading } from './to-work-out'

/* What was said of a bike before money is paid for it, as the money gate takes it. */

type RegisterRow = Prisma.RegisterAskGetPayload<object>
type IdentityRow = Prisma.IdentityNoteGetPayload<object>
export type RegisterWord = RegisterRow & { register: Register; answer: RegisterAnswer }

export function asRegisterWords(rows: readonly RegisterRow[]): RegisterWord[] {
  return rows.map((row) => ({
    ...row,
    register: row.register as Register,
    answer: row.answer as RegisterAnswer,
  }))
}

/** Every word before money is paid, with the rows that those of registers and points stand in. */
export function moneyWordsOf(said: {
  registers: readonly RegisterWord[]
  identity: readonly IdentityRow[]
  frame: FrameLook
  today: string
}) {
  const { registers: asked, frame, today } = said
  const seen = said.identity.map((row) => ({ ...row, point: row.point as IdentityPoint }))
  const words: MoneyWords = {
    registers: asked.map((row) => ({ ...row, at: row.at.toISOString() })),
    identity: seen.map(({ point, answer, at }) => ({ point, answer, at: at.toISOString() })),
    frame,
    today,
  }
  return { words, asked, seen }
}

/** What the check sheet says of the frame number. */
export function frameOf(
  readings: readonly Prisma.ReadingGetPayload<object>[],
  checks: readonly Check[],
): FrameLook {
  const rows = readings.filter(({ check }) => check === frameCheck.key)
  if (rows.length === 0) return { alteredAt: null, bad: null }
  return frameLook({
    readings: rows.map((row) => ({ ...asReading(row), person: row.personId })),
    check: checks.find(({ key }) => key === frameCheck.key) ?? null,
  })
}
