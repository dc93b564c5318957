'use server'

import { redirect } from 'next/navigation'
import { changeBike } from '../../../../../lib/shop/change-bike'
import { formDoor } from '../../../../../lib/web/form-door'

export const changeBikeAction = formDoor(changeBike, {
  after: async ({ viewingNo }) => redirect(`/bikes/${viewingNo}`),
})
