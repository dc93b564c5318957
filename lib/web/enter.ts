import { cookies, headers } from 'next/headers'
import { redirect } from 'next/navigation'
import type { Context } from '../shop/deed'
import { signIn } from '../shop/sign-in'
import {
  deviceTokenIn,
  newDeviceCookie,
  newSessionCookie,
  secureSessionCookie,
  sessionCookie,
} from './cookies'
import { isSecure } from './scheme'

type Entering = { personId: string; deviceId: string; deviceToken: string; pin: unknown }

/** Gives the browser its device's cookie and signs the person in who has just set the PIN. */
export async function enterAs(
  { personId, deviceId, deviceToken, pin }: Entering,
  context: Context,
): Promise<void> {
  await rememberDevice(deviceToken)
  const signedIn = await signIn({ person: personId, pin }, { ...context, deviceId })
  if (!signedIn.ok) redirect('/sign-in')
  await rememberSession(signedIn.answer)
}

/** Gives the browser the cookie of its device, fit for the connection it came over. */
export async function rememberDevice(deviceToken: string): Promise<void> {
  const jar = await cookies()
  for (const cookie of newDeviceCookie(deviceToken, await connection())) jar.set(cookie)
}

/** Gives the browser the cookie of a session, and the one of its device anew where it came over https since. */
export async function rememberSession(session: { token: string; expiresAt: Date }): Promise<void> {
  const jar = await cookies()
  const device = deviceTokenIn((name) => jar.get(name)?.value)
  if (device) await rememberDevice(device)
  for (const cookie of newSessionCookie(session, await connection())) jar.set(cookie)
}

export async function forgetSession(): Promise<void> {
  const jar = await cookies()
  jar.delete(sessionCookie)
  if ((await connection()).secure)
    jar.set({ name: secureSessionCookie, value: '', path: '/', secure: true, maxAge: 0 })
}

async function connection(): Promise<{ secure: boolean }> {
  const asked = await headers()
  return { secure: isSecure((name) => asked.get(name)) }
}
