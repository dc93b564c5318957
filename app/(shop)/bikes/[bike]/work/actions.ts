'use server'

import { revalidatePath } from 'next/cache'
import { decide, withdrawDecision } from '../../../../../lib/shop/decide'
import { noteSpend, priceSpend, takeBackSpend } from '../../../../../lib/shop/spends'
import { formDoor } from '../../../../../lib/web/form-door'
import { decisionOfForm } from './decision-of-form'

/** A decision or what was spent moves the estimate, the deal and the board alike. */
const after = async () => revalidatePath('/', 'layout')

export const decideAction = formDoor(decide, { input: decisionOfForm, after })
export const withdrawDecisionAction = formDoor(withdrawDecision, { after })
export const noteSpendAction = formDoor(noteSpend, { after })
export const priceSpendAction = formDoor(priceSpend, { after })
export const takeBackSpendAction = formDoor(takeBackSpend, { after })
