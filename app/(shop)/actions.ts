'use server'

import { redirect } from 'next/navigation'
import { signOut } from '../../lib/shop/sign-in'
import { forgetSession } from '../../lib/web/enter'
import { formDoor } from '../../lib/web/form-door'

export const signOutAction = formDoor(signOut, {
  after: async () => {
    await forgetSession()
    redirect('/sign-in')
  },
})
