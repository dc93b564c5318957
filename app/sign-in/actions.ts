'use server'

import { cookies } from 'next/headers'
import { redirect } from 'next/navigation'
import { enrolDemoDevice } from '../../lib/shop/demo-device'
import { enrolDevice } from '../../lib/shop/devices'
import { signIn } from '../../lib/shop/sign-in'
import { cookieOptions, deviceCookie, deviceCookieOptions, sessionCookie } from '../../lib/web/cookies'
import { formDoor } from '../../lib/web/form-door'

export const signInAction = formDoor(signIn, {
  secrets: ['pin'],
  after: async ({ token, expiresAt }) => {
    const jar = await cookies()
    jar.set(sessionCookie, token, { ...cookieOptions, expires: expiresAt })
    redirect('/')
  },
})

export const enrolDeviceAction = formDoor(enrolDevice, { secrets: ['code'], after: keepDevice })

export const enrolDemoDeviceAction = formDoor(enrolDemoDevice, { after: keepDevice })

async function keepDevice({ deviceToken }: { deviceToken: string }): Promise<void> {
  const jar = await cookies()
  jar.set(deviceCookie, deviceToken, deviceCookieOptions)
  redirect('/sign-in')
}
