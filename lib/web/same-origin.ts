/** What a request says about where it comes from. A header that is not there is null. */
export type OriginFacts = {
  method: string
  host: string | null
  /** What the request came over, where that is known. */
  scheme?: string | null
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
export function isSameOrigin({
  method,
  host,
  scheme = null,
  origin,
  secFetchSite,
  referer,
}: OriginFacts): boolean {
  if (SAFE_METHODS.includes(method.toUpperCase())) return true
  if (!host) return false
  if (origin !== null) return isHere(origin, { host, scheme }) && siteAgrees(secFetchSite)
  if (secFetchSite !== null) return secFetchSite === 'same-origin'
  return referer !== null && isHere(referer, { host, scheme })
}

/** `none` is a person's own doing, such as sending a form again after the page was loaded anew. */
function siteAgrees(secFetchSite: string | null): boolean {
  return secFetchSite === null || secFetchSite === 'same-origin' || secFetchSite === 'none'
}

/**
 * An origin may be the word "null", a referer anything; the port belongs to the host. A page that came over plain http
 * is another place than the same one over https: anybody in the network could have written it.
 */
function isHere(address: string, { host, scheme }: { host: string; scheme: string | null }): boolean {
  if (!URL.canParse(address)) return false
  const { host: named, protocol } = new URL(address)
  if (protocol !== 'http:' && protocol !== 'https:') return false
  if (scheme !== null && protocol !== `${scheme}:`) return false
  const asked = `${protocol}//${host}`
  return URL.canParse(asked) && new URL(asked).host === named
}
