'use server'

import { redirect } from 'next/navigation'
import { takeInBike } from '../../../../lib/shop/take-in-bike'
import { formDoor } from '../../../../lib/web/form-door'

export const takeInBikeAction = formDoor(takeInBike, {
  after: async ({ viewingNo }) => redirect(`/bikes/${viewingNo}`),
})
