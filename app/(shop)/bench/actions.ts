'use server'

import { revalidatePath } from 'next/cache'
import { pinTask, promiseDay, unpinTask } from '../../../lib/shop/plan-pins'
import { formDoor } from '../../../lib/web/form-door'

const after = async () => revalidatePath('/bench')

export const promiseDayAction = formDoor(promiseDay, { after })
export const pinTaskAction = formDoor(pinTask, { after })
export const unpinTaskAction = formDoor(unpinTask, { after })
