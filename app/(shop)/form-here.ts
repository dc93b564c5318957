import { Refusal } from '../../lib/shop/refusal'
import { type FormState, inputOf, refusedForm, typedIn } from '../../lib/web/form-state'

/** What becomes of a form whose work is done on the device itself: as of one that was sent, so that fields show the same. */
export function formHere(work: (input: Record<string, unknown>) => void) {
  return async (before: FormState<true>, form: FormData): Promise<FormState<true>> => {
    try {
      work(inputOf(form))
      return { typed: {}, fields: {}, message: null, theirs: null, answer: true, turn: before.turn + 1 }
    } catch (error) {
      if (error instanceof Refusal) return refusedForm(before, typedIn(form, []), error.plain)
      throw error
    }
  }
}
