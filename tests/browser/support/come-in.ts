import type { BrowserContext } from '@playwright/test'
import { deviceCookie, sessionCookie } from '../../../lib/web/cookies'
import type { SignedIn } from './people'

/** Makes this browser a device the shop knows, with that person signed in on it where a session is given. */
export async function comeIn(
  context: BrowserContext,
  who: Pick<SignedIn, 'device'> & Partial<Pick<SignedIn, 'session'>>,
  url: string,
): Promise<void> {
  const cookies = [{ name: deviceCookie, value: who.device, url }]
  if (who.session !== undefined) cookies.push({ name: sessionCookie, value: who.session, url })
  await context.addCookies(cookies)
}
