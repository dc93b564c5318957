/**
 * Names of the two cookies, whose device this is and who is signed in on it, over plain http. Cookies know no port and
 * no scheme: one that was set over plain http can be read by anyone in the network and set by them, too.
 */
export const deviceCookie = 'sl_device'
export const sessionCookie = 'sl_session'

/**
 * Over https both have names of their own: a browser takes `__Host-` only from https, for this host alone, and never
 * sends it over plain http (RFC 6265bis, 4.1.3.2).
 */
export const secureDeviceCookie = '__Host-sl_device'
export const secureSessionCookie = '__Host-sl_session'

const year = 365 * 24 * 3600

/** `Lax` keeps them out of other sites' posts, and the doors check the origin as well. */
const cookieOptions = { httpOnly: true, sameSite: 'lax', path: '/' } as const

type Cookie = (name: string) => string | undefined
type NewCookie = {
  name: string
  value: string
  httpOnly: true
  sameSite: 'lax'
  path: '/'
  secure?: true
  maxAge?: number
  expires?: Date
}

/** The token of the device. One enrolled over plain http stays enrolled over https, until its cookie is made anew. */
export function deviceTokenIn(cookie: Cookie): string | undefined {
  return cookie(secureDeviceCookie) ?? cookie(deviceCookie)
}

/** The token of the session. Where the device has come over https, a session of plain http counts no more. */
export function sessionTokenIn(cookie: Cookie): string | undefined {
  const secure = cookie(secureSessionCookie)
  return secure ?? (cookie(secureDeviceCookie) ? undefined : cookie(sessionCookie))
}

/** `Secure` follows the connection: on plain http browsers drop such cookies. */
export function newDeviceCookie(token: string, { secure }: { secure: boolean }): NewCookie[] {
  const kept = { ...cookieOptions, value: token, maxAge: year }
  return secure
    ? [{ ...kept, name: secureDeviceCookie, secure: true }, gone(deviceCookie)]
    : [{ ...kept, name: deviceCookie }]
}

export function newSessionCookie(
  given: { token: string; expiresAt: Date },
  { secure }: { secure: boolean },
): NewCookie[] {
  const kept = { ...cookieOptions, value: given.token, expires: given.expiresAt }
  return secure
    ? [{ ...kept, name: secureSessionCookie, secure: true }, gone(sessionCookie)]
    : [{ ...kept, name: sessionCookie }]
}

function gone(name: string): NewCookie {
  return { ...cookieOptions, name, value: '', maxAge: 0 }
}
