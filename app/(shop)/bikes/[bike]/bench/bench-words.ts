import { openStateKinds } from '../../../../../lib/core/checks/open-states'
import type { BegunChoice, QuestionAnswer } from '../../../../../lib/shop/questions'
import type { JobToDo, RunUnderWay } from '../../../../../lib/shop/read-bench'
import type { QuestionShown } from '../../../../../lib/shop/read-questions'
import { formatHours, formatNumber } from '../../../../_ui/formats'

const space = '\u00a0'

/** Minutes as people say them: 35 min, 1 h 35 min. */
export function minutesWords(minutes: number): string {
  const hours = Math.floor(minutes / 60)
  const rest = minutes % 60
  if (hours === 0) return `${rest}${space}min`
  return rest === 0 ? `${hours}${space}h` : `${hours}${space}h ${rest}${space}min`
}

/** What a job is expected to take: "0.8 to 2.1 h". */
export function expectedWords({ low, high }: JobToDo['hours']): string {
  return low === high ? formatHours(low) : `${formatNumber(low, 1)} to ${formatHours(high)}`
}

/** The rule of the job card: when to stop and ask; null where the card names neither. */
export function stopRule({
  budgetHours,
  stopOn,
}: Pick<RunUnderWay, 'budgetHours' | 'stopOn'>): string | null {
  const above = budgetHours !== null && `above ${formatHours(budgetHours)}`
  const found = stopOn !== null && `on finding: ${stopOn}`
  const when = [above, found].filter(Boolean).join(', or ')
  return when === '' ? null : `Stop and ask ${when}.`
}

/** Hours of a budget that is offered: the high end of what is expected, to the next half hour. */
export function budgetOffered({ high }: JobToDo['hours']): string {
  return String(Math.max(0.5, Math.ceil(high * 2) / 2))
}

export const answerWords: Record<QuestionAnswer, { label: string; hint: string }> = {
  'go on': { label: 'Go on', hint: 'Do what was found as well.' },
  'leave it': { label: 'Leave it', hint: 'Finish what was begun; what was found stays as it is.' },
  stop: { label: 'Stop', hint: 'Put back what is open and leave the rest.' },
}

export const begunWords: Record<BegunChoice, { label: string; hint: string }> = {
  ends: { label: 'It ends here', hint: 'The bike is put back together, and nobody goes on with it.' },
  'stays paused': { label: 'It stays paused', hint: 'Somebody goes on with it another day.' },
}

/** An answer as the bench reads it: what to do now. */
export function answeredWords({ answer, jobEnds }: NonNullable<QuestionShown['answered']>): string {
  const { label, hint } = answerWords[answer]
  return `${label}. ${jobEnds ? 'The work ends here: put the bike back together.' : hint}`
}

export const openStateChoices = Object.entries(openStateKinds).map(([value, { title, tag }]) => ({
  value,
  label: title,
  hint: tag,
}))
