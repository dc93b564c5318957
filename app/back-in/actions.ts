'use server'

import { redirect } from 'next/navigation'
import { comeBackIn } from '../../lib/shop/back-in'
import { enterAs } from '../../lib/web/enter'
import { formDoor } from '../../lib/web/form-door'

export const comeBackInAction = formDoor(comeBackIn, {
  secrets: ['code', 'pin'],
  after: async (answer, context, form) => {
    await enterAs({ ...answer, pin: form.get('pin') }, context)
    redirect('/')
  },
})
