'use server'

import { revalidatePath } from 'next/cache'
import { noteDistance, withdrawDistance } from '../../../../../lib/shop/distances'
import { noteIdentity, noteRegister } from '../../../../../lib/shop/identity'
import { formDoor } from '../../../../../lib/web/form-door'

const after = async () => revalidatePath('/', 'layout')

export const noteRegisterAction = formDoor(noteRegister, { after })
export const noteIdentityAction = formDoor(noteIdentity, { after })
export const noteDistanceAction = formDoor(noteDistance, { after })
export const withdrawDistanceAction = formDoor(withdrawDistance, { after })
