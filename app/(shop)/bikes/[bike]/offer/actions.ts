'use server'

import { revalidatePath } from 'next/cache'
import { noteCounterOffer } from '../../../../../lib/shop/counter-offer'
import { formDoor } from '../../../../../lib/web/form-door'

export const noteCounterOfferAction = formDoor(noteCounterOffer, {
  after: async () => revalidatePath('/', 'layout'),
})
