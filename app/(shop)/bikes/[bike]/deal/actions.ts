'use server'

import { revalidatePath } from 'next/cache'
import { followScope } from '../../../../../lib/shop/follow-scope'
import { noteOtherWays } from '../../../../../lib/shop/other-ways'
import { formDoor } from '../../../../../lib/web/form-door'

/** Both move the deal and the board. */
const after = async () => revalidatePath('/', 'layout')

export const followScopeAction = formDoor(followScope, { after })
export const noteOtherWaysAction = formDoor(noteOtherWays, { after })
