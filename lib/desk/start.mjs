// `npm start` and `npm run demo`: everything from a fresh clone to a served page. Until the packages are
// installed only Node's own modules may be imported here; the rest comes by import() when it is sure.
import { createServer } from 'node:net'
import { resolve } from 'node:path'
import process from 'node:process'
import { fileURLToPath } from 'node:url'
import { ensureBuilt } from './build.mjs'
import { openDemoFolder, refuseDemoFolder } from './demo-folder.mjs'
import { requireNode } from './node-version.mjs'
import { prepare } from './prepare.mjs'
import { endOnSignals, sayTroubleAndStop, Trouble } from './step.mjs'

const root = fileURLToPath(new URL('../..', import.meta.url))

const help = `npm start                      serve your shop (data in ./data)
npm run demo                   serve an invented shop to look at (data in ./data-demo)
npm run demo -- --fresh        throw the invented shop away and make it anew
npm start -- --https           serve over https with a certificate of the shop's own; /trust tells devices how
npm start -- --back-in         print a code for a manager whose device or PIN is lost

Environment
  PORT               the port, 3000 where nothing is said
  HOST               the address to listen on; 127.0.0.1 keeps other devices out
  STAND_LEDGER_DATA  the folder that holds the shop
`

try {
  await start(process.argv.slice(2))
} catch (error) {
  sayTroubleAndStop(error)
}

/** @param {readonly string[]} args */
async function start(args) {
  requireNode()
  const stranger = args.find((arg) => !['--demo', '--fresh', '--back-in', '--https', '--help'].includes(arg))
  if (stranger) throw new Trouble(`"${stranger}" is not known here.\n\n${help}`)
  if (args.includes('--help')) {
    process.stdout.write(help)
    return
  }
  const demo = args.includes('--demo')
  const backIn = args.includes('--back-in')
  const https = args.includes('--https')
  if (args.includes('--fresh') && !demo)
    throw new Trouble('--fresh is only for the demo: it throws a shop away.')

  const stopListening = endOnSignals()
  const at = { port: portToldOr(3000), host: process.env.HOST || undefined }
  // Both are looked at before the long steps, so that nobody waits a minute to be told.
  await requireFreePort(at).catch((error) => plainly(error, at))
  const folder = folderOf({ demo, fresh: args.includes('--fresh') })
  await prepare(root)
  const distDir = await ensureBuilt(root)

  const { register } = await import('tsx/esm/api')
  register()
  const { startServer } = await import('./server.ts')
  const { greeting } = await import('./greeting.ts')
  const server = await startServer({ ...at, folder, distDir, demo, backIn, https }).catch((error) =>
    plainly(error, at),
  )
  stopListening()
  const { firstDayCode, backInCode, trust } = server
  closeOnSignal(server)
  process.stdout.write(greeting({ ...at, port: server.port, firstDayCode, backInCode, demo, trust }))
}

/** @param {number} usual */
function portToldOr(usual) {
  const told = process.env.PORT
  if (!told) return usual
  const port = Number(told)
  if (Number.isInteger(port) && port >= 0 && port <= 65535) return port
  throw new Trouble(`PORT is "${told}": give a whole number from 0 to 65535.`)
}

/** @param {{ port: number, host?: string }} at */
function requireFreePort(at) {
  return new Promise((free, fail) => {
    const probe = createServer()
    probe.once('error', fail)
    probe.listen(at, () => probe.close(() => free(undefined)))
  })
}

/**
 * What a person can put right is said in plain words; anything else travels on as it is.
 *
 * @param {any} error
 * @param {{ port: number, host?: string }} at
 * @returns {never}
 */
function plainly(error, { port, host }) {
  const again = `PORT=${port === 3000 ? 3001 : 3000} npm run ${process.env.npm_lifecycle_event ?? 'start'}`
  switch (error?.code ?? error?.name) {
    case 'EADDRINUSE':
      throw new Trouble(
        `Port ${port} is taken: perhaps this program is running in another window already.\n` +
          `Stop that one, or use another port:  ${again}`,
      )
    case 'EACCES':
      throw new Trouble(`Port ${port} needs more rights than you have. Use another:  ${again}`)
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
      throw new Trouble(`HOST is "${host}", which is no address of this machine. Leave it out to use all.`)
    case 'ShopInUse':
    case 'CertificateProblem':
      throw new Trouble(error.message)
    default:
      throw error
  }
}

/** @param {{ demo: boolean, fresh: boolean }} what */
function folderOf({ demo, fresh }) {
  const folder = resolve(root, process.env.STAND_LEDGER_DATA || (demo ? 'data-demo' : 'data'))
  if (demo) openDemoFolder(folder, { fresh })
  else refuseDemoFolder(folder)
  return folder
}

/** The first Ctrl-C closes the shop in order; a second one does not wait. @param {{ close(): Promise<void> }} server */
function closeOnSignal(server) {
  let closing = false
  const close = () => {
    if (closing) process.exit(130)
    closing = true
    process.stdout.write('\nClosing the shop …\n')
    server.close().then(() => process.exit(0), sayTroubleAndStop)
  }
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, close)
}
