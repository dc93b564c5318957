import { randomBytes } from 'node:crypto'
import type { IncomingMessage, ServerResponse } from 'node:http'
import { isThisMachine, schemeHeader } from '../web/scheme'
import { headersOnlyWeSet, securityHeaders } from '../web/security-headers'
import {
  certificateAddress,
  certificateType,
  hideNoticeAddress,
  plainNoticeCookie,
  servedHere,
} from '../web/served'

export type Handle = (request: IncomingMessage, response: ServerResponse) => Promise<void>

/** How a request came: over https, over http where there is no other way, or over http although there is https. */
export type Came = 'https' | 'http' | 'http beside https'

/** One answer: our headers on it whatever it becomes, and none of a stranger's on the way in. */
export function answer(
  request: IncomingMessage,
  response: ServerResponse,
  { pages, came }: { pages: Handle; came: Came },
): void {
  for (const name of headersOnlyWeSet) delete request.headers[name]
  request.headers[schemeHeader] = schemeOf(request, came)
  const headers = securityHeaders(randomBytes(16).toString('base64'))
  for (const [name, value] of Object.entries(headers)) response.setHeader(name, value)
  const path = pathOf(request)
  const own = ownAnswers[path]
  if (own) {
    own(request, response)
    return
  }
  if (came === 'http beside https' && !isBeforeTrust(path)) {
    leadToHttps(request, response)
    return
  }
  // Next reads the nonce from here and puts it on its own scripts.
  request.headers['content-security-policy'] = headers['content-security-policy']
  pages(request, response).catch((error: unknown) => {
    console.error(error)
    if (!response.headersSent) response.writeHead(500, { 'content-type': 'text/plain; charset=utf-8' })
    response.end('Something went wrong here. Load the page again.')
  })
}

/** What the server answers by itself, by its path. */
const ownAnswers: Readonly<Record<string, (request: IncomingMessage, response: ServerResponse) => void>> = {
  '/healthz': answerHealth,
  // Browsers ask for it unbidden while a page is still coming; the icon itself is named in the page.
  '/favicon.ico': (_request, response) => {
    response.writeHead(204, { 'cache-control': 'public, max-age=86400' })
    response.end()
  },
  [certificateAddress]: answerCertificate,
  [hideNoticeAddress]: hideNotice,
}

/** A proxy on this machine may have come over https itself; nobody else is asked what they came over. */
function schemeOf(request: IncomingMessage, came: Came): 'https' | 'http' {
  if (came === 'https') return 'https'
  const peer = request.socket.remoteAddress ?? ''
  const fromHere = /^(::1|(::ffff:)?127\.)/.test(peer)
  return came === 'http' && fromHere && request.headers[schemeHeader] === 'https' ? 'https' : 'http'
}

function pathOf(request: IncomingMessage): string {
  return (request.url ?? '/').split('?')[0] ?? '/'
}

/** The page that tells how to trust the certificate, and what it is drawn with. */
function isBeforeTrust(path: string): boolean {
  return path === '/trust' || path === '/icon.svg' || path.startsWith('/_next/static/')
}

/**
 * Every other page is led to the same address over https, and not for ever: the shop may be started without it again.
 * A change is led there too, so that a tablet which cannot follow keeps what it has and sends it later.
 */
function leadToHttps(request: IncomingMessage, response: ServerResponse): void {
  const host = request.headers.host ?? ''
  if (!URL.canParse(`https://${host}`)) {
    response.writeHead(400, { 'content-type': 'text/plain; charset=utf-8' })
    response.end('This request does not say which shop it is for.')
    return
  }
  const path = request.url?.startsWith('/') ? request.url : '/'
  // Where the certificate is not trusted yet, a person is told first; this very machine has nothing to fear.
  const first = request.method === 'GET' && !isThisMachine(host) && pathOf(request) === '/'
  const to = first ? '/trust' : `https://${host}${path}`
  response.writeHead(307, { location: to, 'cache-control': 'no-store' })
  response.end()
}

function answerHealth(request: IncomingMessage, response: ServerResponse): void {
  const known = request.method === 'GET' || request.method === 'HEAD'
  response.writeHead(known ? 200 : 405, {
    'content-type': 'text/plain; charset=utf-8',
    'cache-control': 'no-store',
    ...(known ? {} : { allow: 'GET, HEAD' }),
  })
  response.end(known ? 'ok' : '')
}

function answerCertificate(_request: IncomingMessage, response: ServerResponse): void {
  const trust = servedHere()?.trust
  response.setHeader('cache-control', 'no-store')
  if (trust) {
    response.writeHead(200, { 'content-type': certificateType, 'content-length': trust.der.length })
    response.end(trust.der)
    return
  }
  response.writeHead(404, { 'content-type': 'text/plain; charset=utf-8' })
  response.end('This shop is served over plain http and has no certificate.')
}

/** Keeps the line about plain http away until the browser is closed; works without scripts. */
function hideNotice(request: IncomingMessage, response: ServerResponse): void {
  const from = request.headers.referer ?? ''
  const { pathname, search } = new URL(URL.canParse(from) ? from : 'http://here/')
  response.writeHead(303, {
    'set-cookie': `${plainNoticeCookie}=seen; Path=/; HttpOnly; SameSite=Lax`,
    // Two slashes would be another site.
    location: `${pathname.replace(/^\/+/, '/')}${search}`,
    'cache-control': 'no-store',
  })
  response.end()
}
