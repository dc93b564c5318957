'use server'

import { revalidatePath } from 'next/cache'
import { clearLock } from '../../../../../lib/shop/clear-lock'
import { formDoor } from '../../../../../lib/web/form-door'

export const clearLockAction = formDoor(clearLock, {
  after: async () => revalidatePath('/bikes/[bike]/checks', 'layout'),
})
