import { createServer, type Server } from 'node:http'
import { createServer as createSecureServer, type Server as SecureServer } from 'node:https'
import type { AddressInfo, Server as Listener } from 'node:net'
import next from 'next'
import { projectRoot } from '../data/root'
import { openStore, type Store, shareStore } from '../data/store'
import { shareAside } from '../shop/aside'
import { makeBackInCode } from '../shop/back-in'
import { makeFirstDayCode } from '../shop/codes'
import { forgetDerived, refreshBoardRows, rowsWorkedOut } from '../shop/derived'
import { shareServed, type Trust } from '../web/served'
import { answer, type Handle } from './answer'
import { type OpenAside, startAside } from './aside'
import { machineName, namesOfMachine } from './certificate-names'
import { CertificateProblem, type Certificates, openCertificates } from './certificates'
import { lanAddresses } from './greeting'
import { onOnePort } from './one-port'
import { trustInThisProcess } from './own-authority'
import { certificateShown, renewCertificate } from './renew-certificate'

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
  /** Serves over https with the shop's own certificate; otherwise over plain http. */
  https?: boolean
}

export type RunningServer = {
  url: string
  port: number
  store: Store
  /** For the first day; null once the shop is open. */
  firstDayCode: string | null
  /** Only where it was asked for, or where a restore has made PINs useless. */
  backInCode: string | null
  /** What devices have to trust; null over plain http. */
  trust: Trust | null
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
  https = false,
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
    const own = https ? await openCertificates(wantedNow(folder, host)) : null
    const distrust = own && trustInThisProcess(own.authority.pem)
    const pages = await openPages({ distDir, port, host })
    const served = own ? serveBoth(pages.handle, own) : servePlain(pages.handle)
    await listen(served.listener, { port, host })
    if (firstDayCode === null) await refreshBoardRows(store, new Date())
    const taken = (served.listener.address() as AddressInfo).port
    const trust = own && trustIn(own)
    shareServed({ hosts: lanAddresses(host), port: taken, trust })
    const renewing = served.secure && renewByItself(served.secure, { folder, host, say })
    return {
      url: `${own ? 'https' : 'http'}://${host && !['0.0.0.0', '::'].includes(host) ? host : 'localhost'}:${taken}`,
      port: taken,
      store,
      firstDayCode,
      backInCode,
      trust,
      async close() {
        if (renewing) clearInterval(renewing)
        await closeServer(served)
        shareServed(null)
        distrust?.()
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

type Served = { listener: Listener; plain: Server; secure: SecureServer | null }

function servePlain(pages: Handle): Served {
  const plain = createServer((request, response) => answer(request, response, { pages, came: 'http' }))
  return { listener: plain, plain, secure: null }
}

function serveBoth(pages: Handle, own: Certificates): Served {
  const plain = createServer((request, response) =>
    answer(request, response, { pages, came: 'http beside https' }),
  )
  const secure = createSecureServer(certificateShown(own), (request, response) =>
    answer(request, response, { pages, came: 'https' }),
  )
  return { listener: onOnePort({ plain, secure }), plain, secure }
}

function wantedNow(folder: string, host: string | undefined) {
  return { folder, names: namesOfMachine(host), machine: machineName(), now: new Date() }
}

function trustIn({ authority: { der, name, fingerprint, notAfter } }: Certificates): Trust {
  return { der, name, fingerprint, notAfter }
}

/** A router may give this machine another address, and a shop may run for years: looked at every hour. */
const RENEW_MS = 3_600_000

function renewByItself(
  secure: SecureServer,
  { folder, host, say }: { folder: string; host: string | undefined; say: (line: string) => void },
): NodeJS.Timeout {
  const renew = async () => {
    if (await renewCertificate(secure, wantedNow(folder, host)))
      say('The certificate of the server was renewed.')
  }
  const timer = setInterval(() => {
    renew().catch((error: unknown) => {
      if (error instanceof CertificateProblem) say(error.message)
      else console.error(error)
    })
  }, RENEW_MS)
  return timer.unref()
}

function listen(server: Listener, at: { port: number; host: string | undefined }): Promise<void> {
  return new Promise((listening, fail) => {
    server.once('error', fail)
    server.listen(at, () => {
      server.removeListener('error', fail)
      listening()
    })
  })
}

async function closeServer({ listener, plain, secure }: Served): Promise<void> {
  const servers = [plain, ...(secure ? [secure] : [])]
  const closed = new Promise((done) => listener.close(done))
  const impatient = setTimeout(() => {
    for (const server of servers) server.closeAllConnections()
  }, GRACE_MS)
  plain.closeIdleConnections()
  secure?.closeIdleConnections()
  await closed
  clearTimeout(impatient)
}
