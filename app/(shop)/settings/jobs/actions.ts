'use server'

import { revalidatePath } from 'next/cache'
import { changeJob } from '../../../../lib/shop/change-job'
import { formDoor } from '../../../../lib/web/form-door'

export const changeJobAction = formDoor(changeJob, {
  after: async () => revalidatePath('/', 'layout'),
})
