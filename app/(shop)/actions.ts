'use server'

import { cookies } from 'next/headers'
import { redirect } from 'next/navigation'
import { signOut } from '../../lib/shop/sign-in'
import { sessionCookie } from '../../lib/web/cookies'
import { formDoor } from '../../lib/web/form-door'

export const signOutAction = formDoor(signOut, {
  after: async () => {
    const jar = await cookies()
    jar.delete(sessionCookie)
    redirect('/sign-in')
  },
})
