import { cookies } from 'next/headers'
import { redirect } from 'next/navigation'
import type { Context } from '../shop/deed'
import { signIn } from '../shop/sign-in'
import { cookieOptions, deviceCookie, deviceCookieOptions, sessionCookie } from './cookies'

type Entering = { personId: string; deviceId: string; deviceToken: string; pin: unknown }

/** Gives the browser its device's cookie and signs the person in who has just set the PIN. */
export async function enterAs(
  { personId, deviceId, deviceToken, pin }: Entering,
  context: Context,
): Promise<void> {
  const jar = await cookies()
  jar.set(deviceCookie, deviceToken, deviceCookieOptions)
  const signedIn = await signIn({ person: personId, pin }, { ...context, deviceId })
  if (!signedIn.ok) redirect('/sign-in')
  const { token, expiresAt } = signedIn.answer
  jar.set(sessionCookie, token, { ...cookieOptions, expires: expiresAt })
}
