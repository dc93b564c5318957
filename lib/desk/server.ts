import { randomBytes } from 'node:crypto'
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import type { AddressInfo } from 'node:net'
import next from 'next'
import { projectRoot } from '../data/root'
import { openStore, type Store, shareStore } from '../data/store'
import { shareAside } from '../shop/aside'
import { makeBackInCode } from '../shop/back-in'
import { makeFirstDayCode } from '../shop/codes'
import { forgetDerived, refreshBoardRows, rowsWorkedOut } from '../shop/derived'
import { headersOnlyWeSet, securityHeaders } from '../web/security-headers'
import { type OpenAside, startAside } from './aside'

export type ServerSettings = {
  /** The shop's data folder. */
  folder: string
  /** 0 takes any free port. */
  port: number
  /** The address to listen on; undefined is all of this machine. */
  host?: string | undefined
  /** The built pages, relative to the project's folder. */
  distDir: string
  /** Shows the invented shop, and makes it where the folder is empty. */
  demo: boolean
  /** Gives a manager who cannot sign in a code for the way back. */
  backIn?: boolean
}

export type RunningServer = {
  url: string
  port: number
  store: Store
  /** For the first day; null once the shop is open. */
  firstDayCode: string | null
  /** Only where it was asked for, or where a restore has made PINs useless. */
  backInCode: string | null
  /** Lets answers under way come to their end, then closes the shop's data. */
  close(): Promise<void>
}

/** How long an answer under way may take to end once the server is told to close. */
const GRACE_MS = 3000

/** Opens the shop's data and serves its pages. There is one server in a process. */
export async function startServer({
  folder,
  port,
  host,
  distDir,
  demo,
  backIn = false,
}: ServerSettings): Promise<RunningServer> {
  const say = (line: string) => process.stdout.write(`  ${line}\n`)
  const store = await openStore(folder, { say })
  shareStore(store)
  let aside: OpenAside | null = null
  const closeAside = async () => {
    shareAside(null)
    await aside?.close()
    await rowsWorkedOut(store)
  }
  try {
    // The sign-in page lets anybody in where everything is invented: so it is set here or not at all.
    process.env.STAND_LEDGER_DEMO = demo ? '1' : ''
    if (demo) {
      const { ensureDemo } = await import('./demo/make-demo')
      await ensureDemo(store, say)
    }
    // A new build may calculate differently.
    await forgetDerived(store)
    const firstDayCode = await makeFirstDayCode(store, new Date())
    const backInCode = backIn || store.pepperMissing ? await makeBackInCode(store, new Date()) : null
    aside = startAside()
    shareAside(aside)
    const pages = await openPages({ distDir, port, host })
    const server = createServer((request, response) => answer(request, response, pages.handle))
    await listen(server, { port, host })
    if (firstDayCode === null) await refreshBoardRows(store, new Date())
    const taken = (server.address() as AddressInfo).port
    return {
      url: `http://${host && !['0.0.0.0', '::'].includes(host) ? host : 'localhost'}:${taken}`,
      port: taken,
      store,
      firstDayCode,
      backInCode,
      async close() {
        await closeServer(server)
        await pages.close()
        await closeAside()
        await store.close()
      },
    }
  } catch (error) {
    await closeAside()
    await store.close()
    throw error
  }
}

type Handle = (request: IncomingMessage, response: ServerResponse) => Promise<void>

async function openPages(given: { distDir: string; port: number; host: string | undefined }) {
  // next.config.ts is read again here and asks this for the folder of the build.
  process.env.STAND_LEDGER_BUILD = given.distDir
  const app = next({
    dev: false,
    dir: projectRoot(),
    hostname: given.host ?? 'localhost',
    port: given.port,
    quiet: true,
  })
  await app.prepare()
  return { handle: app.getRequestHandler() as Handle, close: () => app.close() }
}

/** One answer: our headers on it whatever it becomes, and none of a stranger's on the way in. */
function answer(request: IncomingMessage, response: ServerResponse, pages: Handle): void {
  for (const name of headersOnlyWeSet) delete request.headers[name]
  const headers = securityHeaders(randomBytes(16).toString('base64'))
  for (const [name, value] of Object.entries(headers)) response.setHeader(name, value)
  if (request.url === '/healthz') {
    answerHealth(request, response)
    return
  }
  // Browsers ask for it unbidden while a page is still coming; the icon itself is named in the page.
  if (request.url === '/favicon.ico') {
    response.writeHead(204, { 'cache-control': 'public, max-age=86400' })
    response.end()
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

function answerHealth(request: IncomingMessage, response: ServerResponse): void {
  const known = request.method === 'GET' || request.method === 'HEAD'
  response.writeHead(known ? 200 : 405, {
    'content-type': 'text/plain; charset=utf-8',
    'cache-control': 'no-store',
    ...(known ? {} : { allow: 'GET, HEAD' }),
  })
  response.end(known ? 'ok' : '')
}

function listen(server: Server, at: { port: number; host: string | undefined }): Promise<void> {
  return new Promise((listening, fail) => {
    server.once('error', fail)
    server.listen(at, () => {
      server.removeListener('error', fail)
      listening()
    })
  })
}

async function closeServer(server: Server): Promise<void> {
  const closed = new Promise((done) => server.close(done))
  const impatient = setTimeout(() => server.closeAllConnections(), GRACE_MS)
  server.closeIdleConnections()
  await closed
  clearTimeout(impatient)
}
