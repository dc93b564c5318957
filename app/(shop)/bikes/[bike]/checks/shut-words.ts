import { toDoFirst } from '../../../../../lib/shop/round-shut'
import { countOf } from '../../../../_ui/formats'
import type { SeenNeed, SeenRound } from './as-seen-here'

/** So many checks are named at once; the others are a tap away. */
export const shownFirst = 5

/** The checks that are still to be done before a round opens: not cleared, and not done on this device either. */
export function waitingOf(needs: readonly SeenNeed[]): SeenNeed[] {
  return toDoFirst(needs).filter(({ onItsWay }) => !onItsWay)
}

/** How far a round that is shut is from open, for its step: "Shut, 6 to do first". */
export function shutWords({ needs, progress }: Pick<SeenRound, 'needs' | 'progress'>): string {
  const waiting = waitingOf(needs).length
  return waiting > 0 ? `Shut, ${waiting} to do first` : `Shut, ${progress.open} to do`
}

/** The same for paper: everything that keeps it shut, the checks as a count. */
export function shutByWords(round: SeenRound): string {
  const waiting = waitingOf(round.needs).length
  return [
    ...round.locks.filter(({ cleared }) => cleared === null).map(({ title }) => title),
    ...round.shutHere,
    ...round.states.map(({ title }) => title),
    ...round.openWork.map((title) => `${title} not finished`),
    ...(waiting > 0 ? [`${countOf(waiting, 'check')} to do first`] : []),
    ...(round.wantsRidePapers ? ['no ride noted'] : []),
  ].join(', ')
}
