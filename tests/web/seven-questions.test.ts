import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest'
import { checkChain } from '../../lib/data/events'
import { shareStore } from '../../lib/data/store'
import type { Deed } from '../../lib/shop/deed'
import { may, type Role, roles, type Verb } from '../../lib/shop/who-may'
import { doorOf } from '../../lib/web/door-mark'
import type { FormAction } from '../../lib/web/form-door'
import { emptyForm, type FormState, typedIn } from '../../lib/web/form-state'
import { type Page, pages } from '../../lib/web/pages'
import {
  everyRow,
  formOf,
  rowsWritten,
  type Sent,
  type ShopAtTheDoor,
  shopToCopy,
} from '../support/at-the-door'
import { type DoorAsked, doorsAsked } from '../support/doors-asked'

/*
 * The seven questions for each door: works · not signed in · wrong role · not there · malformed input keeps what
 * was typed · stale version · side effects. Doors and pages are called as functions; what only a running Next can
 * give them, the headers and cookies of a request and its kept pages, stands here.
 */

const request = vi.hoisted(() => ({
  headers: new Headers(),
  cookies: new Map<string, string>() as ReadonlyMap<string, string>,
  drawnAnew: 0,
}))
vi.mock('next/headers', () => ({
  headers: async () => request.headers,
  cookies: async () => ({
    get: (name: string) =>
      request.cookies.has(name) ? { name, value: request.cookies.get(name) } : undefined,
  }),
}))
vi.mock('next/cache', () => ({
  revalidatePath: () => {
    request.drawnAnew += 1
  },
}))

const root = fileURLToPath(new URL('../..', import.meta.url))
const here = { host: 'shop.local:3000', origin: 'http://shop.local:3000' }
/** Six hours after the tests' own noon, so that something has taken time. */
const evening = '2026-11-25T18:00:00Z'

let copies: Awaited<ReturnType<typeof shopToCopy>>
beforeAll(async () => {
  copies = await shopToCopy()
})
afterAll(() => copies.dispose())
beforeEach(() => {
  vi.useFakeTimers({ toFake: ['Date'], now: new Date(evening) })
})
afterEach(() => {
  vi.useRealTimers()
})

async function openCopy(): Promise<ShopAtTheDoor> {
  const shop = await copies.copy()
  shareStore(shop.store)
  return shop
}

type Came = { state: FormState | null; ledTo: string | null; drawnAnew: number }

/** Sends a form to a door as the browser of somebody, from a page of this server where nothing else is said. */
async function send(
  action: FormAction<never>,
  { sent, as, from = here }: { sent: Sent; as: ReadonlyMap<string, string>; from?: Record<string, string> },
): Promise<Came> {
  Object.assign(request, { headers: new Headers(from), cookies: as, drawnAnew: 0 })
  const came = await ledTo(() => action(emptyForm, formOf(sent)))
  return { state: came.answer, ledTo: came.to, drawnAnew: request.drawnAnew }
}

/** What something answers, or where it leads instead: a page, or nowhere. */
async function ledTo<T>(work: () => Promise<T>): Promise<{ answer: T | null; to: string | null }> {
  try {
    return { answer: await work(), to: null }
  } catch (error) {
    const digest = error instanceof Error && 'digest' in error ? String(error.digest) : ''
    const [what, ...rest] = digest.split(';')
    if (what === 'NEXT_REDIRECT') return { answer: null, to: rest[1] ?? null }
    if (what === 'NEXT_HTTP_ERROR_FALLBACK') return { answer: null, to: rest[0] ?? null }
    throw error
  }
}

const wordsFor = {
  'not signed in': 'Sign in to go on.',
  'wrong role': 'Your role does not allow this. Ask a manager.',
  elsewhere: 'This form was sent from somewhere else. Load the page again.',
  stale: 'Somebody else changed this while you were typing. Look at both and save again.',
} as const

const nameOf = (role: Role) => (role === 'technician' ? 'a technician' : `a ${role}`)
const typedOf = (sent: Sent) => typedIn(formOf(sent), [])

describe.each(Object.entries(doorsAsked))('%s', (_deed, asked: DoorAsked) => {
  const { verb } = asked
  const others = roles.filter((role) => !asked.for.includes(role))
  let shop: ShopAtTheDoor
  let sent: Sent
  beforeAll(async () => {
    shop = await openCopy()
    sent = await asked.sends(shop)
  })
  afterAll(() => shop.dispose())

  const as = (who: Role | 'nobody', over: Sent = {}, from = here) =>
    send(asked.door, { sent: { ...sent, ...over }, as: shop.browsers[who], from })

  /** Refused with these words, everything typed is still there, and not a row was written. */
  async function refusedWith(says: string | RegExp, came: Promise<Came>, typed: Sent = {}) {
    const before = everyRow(shop)
    const { state, ledTo, drawnAnew } = await came
    expect(state?.message).toMatch(says)
    expect(state).toMatchObject({ answer: null, typed: typedOf({ ...sent, ...typed }) })
    expect({ ledTo, drawnAnew }).toEqual({ ledTo: null, drawnAnew: 0 })
    expect(rowsWritten(before, everyRow(shop))).toEqual({})
    return state!
  }

  it('is shut to who is not signed in', async () => {
    await refusedWith(wordsFor['not signed in'], as('nobody'))
  })

  it('is shut to a form that comes from another place', async () => {
    await refusedWith(wordsFor.elsewhere, as(asked.for[0]!, {}, { ...here, origin: 'http://else.example' }))
  })

  if (others.length > 0)
    it(`is shut to ${others.map(nameOf).join(' and ')}`, async () => {
      for (const role of others) await refusedWith(wordsFor['wrong role'], as(role))
    })

  it('tells that what it is about is not there', async () => {
    const gone = { [asked.about]: '0199c0de-0000-7000-8000-00000000dead' }
    await refusedWith(/not (there|open)/, as(asked.for[0]!, gone), gone)
  })

  it('says at its field what cannot be right, to everybody it is for, and keeps what was typed', async () => {
    const { field, typed } = asked.wrong
    for (const role of asked.for) {
      const state = await refusedWith(/field/, as(role, { [field]: typed }), { [field]: typed })
      expect(Object.keys(state.fields)).toEqual([field])
    }
  })

  if (asked.saw)
    it('is refused to who saw an older version', async () => {
      const { version } = await newer()
      const state = await refusedWith(wordsFor.stale, as(asked.for[0]!))
      expect(state.theirs).not.toBeNull()
      sent = { ...sent, version: String(version) }
    })

  it('works, tells the history who did what, and touches nothing else', async () => {
    const { db } = shop.store
    const before = everyRow(shop)
    const [role] = asked.for as [Role]
    const { state, ledTo, drawnAnew } = await as(role)
    expect(state?.message ?? null).toBeNull()
    expect(state?.answer ?? ledTo).not.toBeNull()
    expect(drawnAnew).toBe(1)
    expect(rowsWritten(before, everyRow(shop))).toEqual({ ...asked.writes, Event: 1 })
    const event = await db.event.findFirstOrThrow({ orderBy: { seq: 'desc' } })
    const { personId } = shop[role].who!
    const at = new Date(evening)
    const { id: bikeId } = await db.bike.findFirstOrThrow()
    expect(event).toMatchObject({ verb, personId, deviceId: shop.deviceId, bikeId, at })
    expect(JSON.parse(event.body)).toMatchObject(asked.tells)
    expect(await checkChain(db)).toMatchObject({ ok: true })
  })

  /** Somebody else saves it meanwhile. */
  async function newer(): Promise<{ version: number }> {
    const table = asked.saw!
    const id = sent[asked.about] as string
    const [name] = [table.charAt(0).toLowerCase() + table.slice(1)]
    const rows = shop.store.db[name as 'bike']
    // What there is one of for a bike goes by the bike's id.
    const where = (table === 'Promised' ? { bikeId: id } : { id }) as { id: string }
    return rows.update({ where, data: { version: { increment: 1 } } })
  }
})

describe('every form of the program', () => {
  const files = readdirSync(join(root, 'app'), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('actions.ts'))
    .sort()
  let shop: ShopAtTheDoor
  let doors: (readonly [string, FormAction<never>, Verb])[]
  beforeAll(async () => {
    shop = await openCopy()
    const modules = await Promise.all(files.map((file) => import(join(root, 'app', file))))
    doors = modules.flatMap((module: Record<string, FormAction<never>>) =>
      Object.entries(module).map(([name, action]) => [name, action, doorOf(action)!] as const),
    )
  })
  afterAll(() => shop.dispose())

  /** What no deed takes, so that whoever is let in is told so, with all that was typed. */
  const sent = { typed: 'kept as it was', 'list[]': ['one', 'two'] }
  const refused = async (action: FormAction<never>, who: Role | 'nobody', from?: Record<string, string>) => {
    const { state } = await send(action, { sent, as: shop.browsers[who], ...(from && { from }) })
    expect(state).toMatchObject({ typed: typedOf(sent), answer: null })
    return state?.message
  }

  it('is shut to who is not signed in, to other roles and from elsewhere, keeps what was typed and writes nothing', async () => {
    expect(doors.length).toBeGreaterThan(40)
    const before = everyRow(shop)
    for (const [name, action, verb] of doors) {
      const allowed = may[verb]
      expect(await refused(action, 'manager', { host: here.host }), name).toBe(wordsFor.elsewhere)
      if (typeof allowed === 'string') continue
      expect(await refused(action, 'nobody'), name).toBe(wordsFor['not signed in'])
      for (const role of roles) {
        const may = (allowed as readonly Role[]).includes(role)
        const says = await refused(action, role)
        if (may) expect(says, `${name} for ${role}`).toMatch(/field|page/)
        else expect(says, `${name} for ${role}`).toBe(wordsFor['wrong role'])
      }
    }
    expect(rowsWritten(before, everyRow(shop))).toEqual({})
  })
})

describe('every deed', () => {
  /** Deeds whose questions are asked in a file of their own. */
  const askedIn: Readonly<Record<string, readonly string[]>> = {
    'tests/shop/add-photo.test.ts': ['addPhoto'],
    'tests/shop/away.test.ts': ['makeOfferAway', 'sayPrices'],
    'tests/shop/back-in.test.ts': ['comeBackIn'],
    'tests/shop/bench-people.test.ts': ['noteTimeOff', 'setPersonWork', 'withdrawTimeOff'],
    'tests/shop/bike-limit.test.ts': ['setBikeLimit', 'withdrawBikeLimit'],
    'tests/shop/catalogue-change.test.ts': [
      ...['addEntry', 'changeEntry', 'entryBackToStart', 'takeEntryOut', 'takeEntryUp'],
    ],
    'tests/shop/catalogue-table.test.ts': ['importCatalogue'],
    'tests/shop/change-bike.test.ts': ['changeBike'],
    'tests/shop/change-job.test.ts': ['changeJob'],
    'tests/shop/change-shop.test.ts': ['changeShop'],
    'tests/shop/deal-desk.test.ts': ['followScope'],
    'tests/shop/decide.test.ts': ['decide', 'withdrawDecision'],
    'tests/shop/demo-sign-in.test.ts': ['enrolDemoDevice'],
    'tests/shop/figures.test.ts': ['changeFigures'],
    'tests/shop/instruments.test.ts': ['addInstrument', 'changeInstrument', 'withdrawInstrument'],
    'tests/shop/learned-hours.test.ts': ['acceptHours', 'revertHours'],
    'tests/shop/learned.test.ts': ['acceptLearned', 'revertLearned'],
    'tests/shop/limits.test.ts': ['setLimit', 'withdrawLimit'],
    'tests/shop/model-sheet.test.ts': ['importModelLimits', 'setModelLimits'],
    'tests/shop/open-shop.test.ts': ['openShop'],
    'tests/shop/people.test.ts': ['addPerson', 'changePerson', 'personLeft', 'setPin'],
    'tests/shop/record-reading.test.ts': ['recordReading'],
    'tests/shop/seller-side.test.ts': ['endSellerSide', 'startSellerSide'],
    'tests/shop/sign-in.test.ts': ['enrolDevice', 'makeDeviceCode', 'revokeDevice', 'signIn', 'signOut'],
    'tests/shop/suppliers.test.ts': ['addSupplier', 'changeSupplier'],
    'tests/shop/take-in-bike.test.ts': ['takeInBike'],
  }

  it('is asked here or in a file of its own, and has a verb of the table', async () => {
    const found: string[] = []
    for (const file of readdirSync(join(root, 'lib/shop')).filter((name) => name.endsWith('.ts'))) {
      const module = (await import(join(root, 'lib/shop', file))) as Record<string, unknown>
      for (const [name, made] of Object.entries(module)) {
        if (typeof made !== 'function' || !('verb' in made && 'input' in made)) continue
        found.push(name)
        expect(Object.keys(may), name).toContain((made as unknown as Deed<never, unknown>).verb)
      }
    }
    const asked = [...Object.keys(doorsAsked), ...Object.values(askedIn).flat()]
    expect(found.length).toBeGreaterThan(45)
    expect(asked.sort()).toEqual(found.sort())
  })

  it.each(Object.entries(askedIn))('is asked in %s', (file, deeds) => {
    expect(existsSync(join(root, file)), file).toBe(true)
    const text = readFileSync(join(root, file), 'utf8')
    for (const deed of deeds) expect(text, deed).toMatch(new RegExp(`\\b${deed}\\(`))
  })
})

describe('every page of a bike', () => {
  const ofBike = (Object.keys(pages) as Page[]).filter((page) => page.includes('[bike]'))
  type Drawn = (given: { params: Promise<object>; searchParams: Promise<object> }) => Promise<unknown>
  let shop: ShopAtTheDoor
  beforeAll(async () => {
    shop = await openCopy()
    for (const name of ['startJob', 'declareOpen', 'rideIn']) await doorsAsked[name]!.sends(shop)
  })
  afterAll(() => shop.dispose())

  async function visit(page: Page, who: Role | 'nobody', bike = '1') {
    Object.assign(request, { headers: new Headers(here), cookies: shop.browsers[who] })
    const { default: draw } = (await import(join(root, 'app/(shop)', page, 'page.tsx'))) as { default: Drawn }
    const { answer, to } = await ledTo(() =>
      draw({ params: Promise.resolve({ bike }), searchParams: Promise.resolve({}) }),
    )
    return answer === null ? to : 'drawn'
  }

  it.each(ofBike)('%s is drawn for whom it is for, shut to others, and writes nothing', async (page) => {
    const before = everyRow(shop)
    expect(await visit(page, 'nobody')).toBe('/sign-in')
    for (const role of roles) {
      const allowed = (may[pages[page] as Verb] as readonly Role[]).includes(role)
      expect(await visit(page, role), role).toBe(allowed ? 'drawn' : '404')
    }
    for (const number of ['99', '0', 'x', '-1', '1e3', '99999999999']) {
      expect(await visit(page, 'manager', number), number).toBe('404')
    }
    const written = rowsWritten(before, everyRow(shop))
    // What was worked out is kept for speed.
    expect(Object.keys(written).filter((table) => table !== 'Derived')).toEqual([])
  })
})
