/** Names of the two cookies: whose device this is, and who is signed in on it. */
export const deviceCookie = 'sl_device'
export const sessionCookie = 'sl_session'

const year = 365 * 24 * 3600

/**
 * Not `Secure`: the shop's own network may be plain http, where browsers drop such cookies. `Lax` keeps them
 * out of other sites' posts, and the doors check the origin as well.
 */
export const cookieOptions = {
  httpOnly: true,
  sameSite: 'lax',
  path: '/',
} as const
export const deviceCookieOptions = { ...cookieOptions, maxAge: year } as const
