type Header = (name: string) => string | null | undefined

/** Our server writes it on every request, so that what a stranger sends there counts for nothing. */
export const schemeHeader = 'x-forwarded-proto'

/** Whether a request came over https; a request that does not say came over plain http. */
export function isSecure(header: Header): boolean {
  return header(schemeHeader) === 'https'
}

/** Whether a page was opened on the very machine that serves it: nothing of it goes over the network then. */
export function isThisMachine(host: string | null | undefined): boolean {
  return /^(localhost|127(\.\d+){3}|\[::1\])(:\d+)?$/i.test(host ?? '')
}
