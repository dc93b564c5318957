'use server'

import { revalidatePath } from 'next/cache'
import { redirect } from 'next/navigation'
import { rideIn, rideOut } from '../../../../../lib/shop/rides'
import { formDoor } from '../../../../../lib/web/form-door'

export const rideOutAction = formDoor(rideOut, {
  after: async () => revalidatePath('/', 'layout'),
})

/** Back from a ride one writes down what was felt: the road round of the sheet. */
export const rideInAction = formDoor(rideIn, {
  after: async ({ viewingNo }) => {
    revalidatePath('/', 'layout')
    redirect(`/bikes/${viewingNo}/checks?round=road`)
  },
})
