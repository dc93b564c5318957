'use server'

import { cookies } from 'next/headers'
import { redirect } from 'next/navigation'
import { openShop } from '../../lib/shop/open-shop'
import { signIn } from '../../lib/shop/sign-in'
import { cookieOptions, deviceCookie, deviceCookieOptions, sessionCookie } from '../../lib/web/cookies'
import { formDoor } from '../../lib/web/form-door'
import { inputOf } from '../../lib/web/form-state'

export const openShopAction = formDoor(openShop, {
  secrets: ['code', 'pin'],
  input: (form) => {
    const input = inputOf(form)
    // Where there is no tax nobody is asked for its rate.
    return input.taxScheme === 'none' ? { ...input, taxRate: '0' } : input
  },
  after: async ({ personId, deviceId, deviceToken }, context, form) => {
    const jar = await cookies()
    jar.set(deviceCookie, deviceToken, deviceCookieOptions)
    const signedIn = await signIn({ person: personId, pin: form.get('pin') }, { ...context, deviceId })
    if (!signedIn.ok) redirect('/sign-in')
    const { token, expiresAt } = signedIn.answer
    jar.set(sessionCookie, token, { ...cookieOptions, expires: expiresAt })
    redirect('/')
  },
})
