'use server'

import { revalidatePath } from 'next/cache'
import { makeDeviceCode, revokeDevice } from '../../../../lib/shop/devices'
import { addPerson, changePerson, personLeft, setPin } from '../../../../lib/shop/people'
import { formDoor } from '../../../../lib/web/form-door'

const after = async () => revalidatePath('/settings/people')

export const addPersonAction = formDoor(addPerson, { secrets: ['pin'], after })
export const changePersonAction = formDoor(changePerson, { after })
export const setPinAction = formDoor(setPin, { secrets: ['pin'], after })
export const personLeftAction = formDoor(personLeft, { after })
export const makeDeviceCodeAction = formDoor(makeDeviceCode)
export const revokeDeviceAction = formDoor(revokeDevice, { after })
