import { type BikeToWorkOut, workOutForBoard } from '../core/board/bike-result'
import { planBench } from '../core/board/plan-bench'
import { type BoardRowAsked, boardRow } from '../core/board/row'

/**
 * The calculations that take long enough to hold up the pages, by name: each takes one plain value and answers
 * another, since both are copied from one thread to the other. They know nothing of the store.
 */
export const reckonings = {
  'board-row': (asked: BoardRowAsked & { bike: BikeToWorkOut }) =>
    boardRow(workOutForBoard(asked.bike), asked),
  'bench-plan': planBench,
}

export type Reckonings = typeof reckonings
export type ReckoningName = keyof Reckonings
export type InputOf<Name extends ReckoningName> = Parameters<Reckonings[Name]>[0]
export type OutputOf<Name extends ReckoningName> = ReturnType<Reckonings[Name]>
