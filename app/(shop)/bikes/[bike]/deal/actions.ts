'use server'

import { revalidatePath } from 'next/cache'
import { followScope } from '../../../../../lib/shop/follow-scope'
import { noteOtherWays } from '../../../../../lib/shop/other-ways'
import { dropWhatIf, keepWhatIf } from '../../../../../lib/shop/what-ifs'
import { formDoor } from '../../../../../lib/web/form-door'

/** The first two move the deal and the board; what is kept of what-ifs stands on this page. */
const after = async () => revalidatePath('/', 'layout')

export const followScopeAction = formDoor(followScope, { after })
export const noteOtherWaysAction = formDoor(noteOtherWays, { after })
export const keepWhatIfAction = formDoor(keepWhatIf, { after })
export const dropWhatIfAction = formDoor(dropWhatIf, { after })
