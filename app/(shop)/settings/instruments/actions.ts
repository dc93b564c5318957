'use server'

import { revalidatePath } from 'next/cache'
import { addInstrument, changeInstrument, withdrawInstrument } from '../../../../lib/shop/instruments'
import { formDoor } from '../../../../lib/web/form-door'

const after = async () => revalidatePath('/settings/instruments')

export const addInstrumentAction = formDoor(addInstrument, { after })
export const changeInstrumentAction = formDoor(changeInstrument, { after })
export const withdrawInstrumentAction = formDoor(withdrawInstrument, { after })
