'use server'

import { revalidatePath } from 'next/cache'
import { acceptHours, revertHours } from '../../../../lib/shop/learned-hours'
import { formDoor } from '../../../../lib/web/form-door'

const after = async () => revalidatePath('/settings/learned-hours')

export const acceptHoursAction = formDoor(acceptHours, { after })
export const revertHoursAction = formDoor(revertHours, { after })
