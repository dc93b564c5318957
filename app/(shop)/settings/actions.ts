'use server'

import { revalidatePath } from 'next/cache'
import { changeFigures } from '../../../lib/shop/figures'
import { formDoor } from '../../../lib/web/form-door'

export const changeFiguresAction = formDoor(changeFigures, {
  after: async () => revalidatePath('/settings'),
})
