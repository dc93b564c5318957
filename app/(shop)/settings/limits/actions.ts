'use server'

import { revalidatePath } from 'next/cache'
import { setLimit, withdrawLimit } from '../../../../lib/shop/limits'
import { formDoor } from '../../../../lib/web/form-door'

const after = async () => revalidatePath('/settings/limits')

export const setLimitAction = formDoor(setLimit, { after })
export const withdrawLimitAction = formDoor(withdrawLimit, { after })
