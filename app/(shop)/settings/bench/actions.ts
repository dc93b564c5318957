'use server'

import { revalidatePath } from 'next/cache'
import { noteTimeOff, setPersonWork, withdrawTimeOff } from '../../../../lib/shop/bench-people'
import { formDoor } from '../../../../lib/web/form-door'

const after = async () => revalidatePath('/settings/bench')

export const setPersonWorkAction = formDoor(setPersonWork, { after })
export const noteTimeOffAction = formDoor(noteTimeOff, { after })
export const withdrawTimeOffAction = formDoor(withdrawTimeOff, { after })
