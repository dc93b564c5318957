import type { AskedOfKeeper, KeptShown, KeptState } from './_ui/kept-state'

/*
 * Keeps pages for a time without a network. Which pages those are the server says (GET /api/v1/kept-pages), by role
 * and device; nothing else is ever kept. With a network every page comes from the server. A page goes when its
 * person signs out, when the server no longer knows them, and after a fortnight without the server. The small pictures
 * of photos that these pages show are kept and go with them; their bytes never change, so they come from here at once.
 */

type Extendable = Event & { waitUntil(work: Promise<unknown>): void }
type Fetched = Extendable & { request: Request; respondWith(answer: Promise<Response>): void }
type Told = Extendable & { data: AskedOfKeeper; ports: readonly MessagePort[] }
type Worker = {
  addEventListener(on: 'install' | 'activate', then: (event: Extendable) => void): void
  addEventListener(on: 'fetch', then: (event: Fetched) => void): void
  addEventListener(on: 'message', then: (event: Told) => void): void
  skipWaiting(): Promise<void>
  clients: { claim(): Promise<void> }
  location: Location
}

const worker = self as unknown as Worker

const assets = 'stand-ledger-assets'
const pagesBegin = 'stand-ledger-pages'
const picturesBegin = 'stand-ledger-pictures'
const aboutName = 'stand-ledger-about'
const aboutKey = '/about-what-is-kept'

/** What is kept goes after so long without the server. */
const longestAlone = 14 * 24 * 3600 * 1000
/** A network that answers nothing for so long is taken for none, where there is a page to show instead. */
const patience = 10_000
/** So many pages or pictures are fetched at a time: the server has people to answer meanwhile. */
const atOnce = 2

type About = Omit<KeptState, 'pages'>
const nothingKept: About = { person: null, build: null, keptAt: null, heardAt: null }

worker.addEventListener('install', (event) => event.waitUntil(worker.skipWaiting()))
worker.addEventListener('activate', (event) => event.waitUntil(worker.clients.claim()))

worker.addEventListener('message', (event) => {
  const { data, ports } = event
  event.waitUntil(answer(data).then((state) => ports[0]?.postMessage(state)))
})

worker.addEventListener('fetch', (event) => {
  const { request } = event
  const url = new URL(request.url)
  if (request.method !== 'GET' || url.origin !== worker.location.origin) return
  if (url.pathname.startsWith('/_next/static/')) event.respondWith(asset(request))
  else if (isSmallPicture(url)) event.respondWith(picture(request))
  else if (request.mode === 'navigate') event.respondWith(page(request, url))
  else if (request.headers.has('rsc')) event.respondWith(fetch(request).catch(wholePageInstead))
})

async function answer(asked: AskedOfKeeper): Promise<KeptState> {
  switch (asked.ask) {
    case 'here': {
      const { person } = await about()
      if (person !== null && person !== asked.person) await forget()
      break
    }
    case 'keep':
      await keepOnce()
      break
    case 'forget':
      await forget()
      break
    case 'state':
  }
  return { ...(await about()), pages: await shown() }
}

/** Pages ask each other's parts as data. Where none comes, an answer of another kind makes them load the whole page. */
function wholePageInstead(): Response {
  return new Response('', { headers: { 'content-type': 'text/html' } })
}

async function asset(request: Request): Promise<Response> {
  const kept = await caches.match(request.url, { cacheName: assets })
  return kept ?? fetch(request)
}

const isSmallPicture = ({ pathname, search }: URL) =>
  pathname.startsWith('/api/v1/photos/') && search === '?size=small'

async function picture(request: Request): Promise<Response> {
  const whose = await keptFor()
  const kept = whose && (await caches.match(request.url, { cacheName: picturesOf(whose) }))
  return kept ?? fetch(request)
}

async function page(request: Request, url: URL): Promise<Response> {
  const kept = await keptPage(url)
  const fresh = fetch(request)
  if (!kept) return fresh.catch(() => notKept())
  const impatient = new Promise<Response>((resolve) => setTimeout(() => resolve(kept), patience))
  return Promise.race([fresh, impatient]).catch(() => kept)
}

async function keptPage(url: URL): Promise<Response | undefined> {
  const whose = await keptFor()
  return whose ? (await caches.open(cacheOf(whose))).match(url.pathname) : undefined
}

/** Whose is kept here; null where nobody's is, or the server was not heard for too long. */
async function keptFor(): Promise<{ person: string; build: string } | null> {
  const { person, build, heardAt } = await about()
  if (person === null || build === null) return null
  if (heardAt !== null && Date.now() - heardAt <= longestAlone) return { person, build }
  await forget()
  return null
}

/** Pictures are the same in every build. */
const picturesOf = ({ person }: { person: string }) => `${picturesBegin} ${person}`
const cacheOf = ({ person, build }: { person: string; build: string }) => `${pagesBegin} ${build} ${person}`

async function about(): Promise<About> {
  const kept = await (await caches.open(aboutName)).match(aboutKey)
  return kept ? ((await kept.json()) as About) : nothingKept
}

async function noteAbout(next: About): Promise<void> {
  await (await caches.open(aboutName)).put(aboutKey, Response.json(next))
}

async function forget(): Promise<void> {
  await noteAbout(nothingKept)
  await drop([pagesBegin, picturesBegin])
}

async function drop(beginnings: readonly string[]): Promise<void> {
  const names = await caches.keys()
  const dropped = names.filter((name) => beginnings.some((beginning) => name.startsWith(beginning)))
  await Promise.all(dropped.map((name) => caches.delete(name)))
}

let keeping: Promise<void> | null = null

/** One round at a time; whoever asks meanwhile waits for a round of their own, since the shop may have changed. */
function keepOnce(): Promise<void> {
  const mine = (keeping ?? Promise.resolve()).then(keepPages).catch(() => {})
  keeping = mine
  return mine
}

type Wanted = {
  build: string
  person: string
  pages: readonly { address: string; mark: string }[]
  /** Addresses of small pictures; left out by servers of earlier builds. */
  pictures?: readonly string[]
}

/** Without a network, or with a server that is busy, everything stays as it is until the next time. */
async function keepPages(): Promise<void> {
  const startedAt = Date.now()
  const told = await fetch('/api/v1/kept-pages', { cache: 'no-store', credentials: 'same-origin' })
  if (told.status === 401) return forget()
  if (!told.ok) return
  const { build, person, pages: wanted, pictures = [] } = (await told.json()) as Wanted
  const before = await about()
  if (before.person !== person) await forget()
  else if (before.build !== build) await drop([pagesBegin])
  const same = before.person === person && before.build === build
  await noteAbout({ person, build, keptAt: same ? before.keptAt : null, heardAt: startedAt })
  // Opened once: where all is dropped while this goes on, the rest is put into what is no longer there.
  const [cache, album] = [
    await caches.open(cacheOf({ person, build })),
    await caches.open(picturesOf({ person })),
  ]
  const used = new Set<string>()
  let whole = true
  await aFewAtATime(wanted, async (next) => {
    const files = await keepPage(cache, next)
    if (files) for (const file of files) used.add(file)
    else whole = false
  })
  if (!(await keepPictures(album, pictures))) whole = false
  const addresses = new Set(wanted.map(({ address }) => address))
  for (const { url } of await cache.keys()) {
    if (!addresses.has(new URL(url).pathname)) await cache.delete(url)
  }
  if (!whole) return
  await dropAssetsBut(used)
  // Somebody may have signed out while this went on.
  const after = await about()
  if (after.person === person) await noteAbout({ ...after, keptAt: startedAt })
}

async function aFewAtATime<T>(all: readonly T[], each: (one: T) => Promise<void>): Promise<void> {
  const rest = [...all]
  const work = async () => {
    for (let next = rest.shift(); next !== undefined; next = rest.shift()) await each(next)
  }
  await Promise.all(Array.from({ length: atOnce }, work))
}

/** False where one could not be kept now. One that is not there is left out; one that is named no more goes. */
async function keepPictures(album: Cache, wanted: readonly string[]): Promise<boolean> {
  let whole = true
  const kept = new Set<string>()
  for (const { url } of await album.keys()) {
    const { pathname, search } = new URL(url)
    if (wanted.includes(pathname + search)) kept.add(pathname + search)
    else await album.delete(url)
  }
  await aFewAtATime(
    wanted.filter((address) => !kept.has(address)),
    async (address) => {
      const fresh = await fetch(address, { credentials: 'same-origin' }).catch(() => null)
      if (fresh?.status === 404) return
      // A gate in front of the network answers with a page of its own.
      const isPicture = fresh?.ok && fresh.headers.get('content-type')?.startsWith('image/')
      // Where the disk is full there are fewer pictures, and all pages.
      if (isPicture) await album.put(address, fresh).catch(() => {})
      else whole = false
    },
  )
  return whole
}

/** The files the page needs; null where the page could not be kept now. A page that is not there is left out. */
async function keepPage(
  cache: Cache,
  { address, mark }: Wanted['pages'][number],
): Promise<readonly string[] | null> {
  const kept = await cache.match(address)
  if (kept?.headers.get('x-mark') === mark) return filesOf(await kept.text())
  const fresh = await fetch(address, { cache: 'no-store', credentials: 'same-origin' }).catch(() => null)
  if (fresh?.status === 404) return []
  if (!fresh?.ok || fresh.redirected) return null
  const text = await fresh.text()
  const files = filesOf(text)
  if (!(await keepAssets(files))) return null
  const headers = new Headers({
    'content-type': 'text/html; charset=utf-8',
    'content-security-policy': fresh.headers.get('content-security-policy') ?? "default-src 'none'",
    'x-mark': mark,
    'x-kept-at': String(Date.now()),
  })
  await cache.put(address, new Response(text, { headers }))
  return files
}

/** Scripts, styles and letters that a page names, also those in the data that its parts are made from. */
function filesOf(text: string): string[] {
  return [...new Set(text.match(/\/_next\/static\/[\w./~%@-]+\.(?:js|css|woff2?)/g) ?? [])]
}

async function keepAssets(files: readonly string[]): Promise<boolean> {
  const cache = await caches.open(assets)
  for (const file of files) {
    if (await cache.match(file)) continue
    const fresh = await fetch(file).catch(() => null)
    if (!fresh?.ok) return false
    await cache.put(file, fresh)
  }
  return true
}

async function dropAssetsBut(used: ReadonlySet<string>): Promise<void> {
  const cache = await caches.open(assets)
  for (const { url } of await cache.keys()) {
    if (!used.has(new URL(url).pathname)) await cache.delete(url)
  }
}

async function shown(): Promise<KeptShown[]> {
  const { person, build } = await about()
  if (person === null || build === null) return []
  const cache = await caches.open(cacheOf({ person, build }))
  const requests = await cache.keys()
  return Promise.all(
    requests.map(async (request) => {
      const kept = await cache.match(request)
      return {
        address: new URL(request.url).pathname,
        title: titleOf((await kept?.text()) ?? ''),
        keptAt: Number(kept?.headers.get('x-kept-at') ?? 0),
      }
    }),
  )
}

function titleOf(text: string): string {
  const title = /<title>([^<]*)<\/title>/.exec(text)?.[1] ?? 'A page'
  const heading = /<h1[^>]*>([\s\S]*?)<\/h1>/.exec(text)?.[1]?.replace(/<[^>]*>/g, '')
  const first = title.replace(/ · .*$/, '')
  return heading && heading !== first ? `${heading}: ${first}` : first
}

/** Said plainly, with what there is to go to instead. */
async function notKept(): Promise<Response> {
  const pages = (await shown()).sort((a, b) => a.address.localeCompare(b.address, 'en', { numeric: true }))
  const style = (await (await caches.open(assets)).keys()).find(({ url }) => url.endsWith('.css'))
  const list = pages
    .map(({ address, title }) => `<li><a class="tap" href="${address}">${title}</a></li>`)
    .join('')
  const instead =
    pages.length > 0
      ? `<p>These are kept here and open without one:</p><ul>${list}</ul>`
      : '<p>Nothing is kept here: pages are kept once somebody is signed in and there is a network.</p>'
  const body = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>No network · Stand &amp; Ledger</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
${style ? `<link rel="stylesheet" href="${new URL(style.url).pathname}">` : ''}</head>
<body><main id="main" class="page-narrow bench"><h1>No network, and this page is not kept on this device</h1>
<p>What was recorded here lies on this device and is lost by nothing.</p>${instead}
<p><a class="btn" href="">Try again</a></p></main></body></html>`
  return new Response(body, {
    status: 503,
    headers: {
      'content-type': 'text/html; charset=utf-8',
      'content-security-policy': "default-src 'none'; style-src 'self'",
    },
  })
}
