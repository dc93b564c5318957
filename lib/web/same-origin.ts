/** What a request says about where it comes from. A header that is not there is null. */
export type OriginFacts = {
  method: string
  host: string | null
  origin: string | null
  secFetchSite: string | null
  referer: string | null
}

/** Methods that change nothing, whoever sends them (RFC 9110, 9.2.1). */
const SAFE_METHODS = ['GET', 'HEAD', 'OPTIONS']

/**
 * Whether a request that may change something was sent by a page of this very server. Where the browser says
 * nothing at all about it the answer is no.
 */
export function isSameOrigin({ method, host, origin, secFetchSite, referer }: OriginFacts): boolean {
  if (SAFE_METHODS.includes(method.toUpperCase())) return true
  if (!host) return false
  if (origin !== null) return isHost(origin, host) && siteAgrees(secFetchSite)
  if (secFetchSite !== null) return secFetchSite === 'same-origin'
  return referer !== null && isHost(referer, host)
}

/** `none` is a person's own doing, such as sending a form again after the page was loaded anew. */
function siteAgrees(secFetchSite: string | null): boolean {
  return secFetchSite === null || secFetchSite === 'same-origin' || secFetchSite === 'none'
}

/** An origin may be the word "null", a referer anything; the port belongs to the host. */
function isHost(address: string, host: string): boolean {
  if (!URL.canParse(address)) return false
  const { host: named, protocol } = new URL(address)
  if (protocol !== 'http:' && protocol !== 'https:') return false
  const asked = `${protocol}//${host}`
  return URL.canParse(asked) && new URL(asked).host === named
}
