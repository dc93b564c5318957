import { uuidv7 } from 'uuidv7'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { checkReadings } from '../../lib/data/check-readings'
import { checkChain } from '../../lib/data/events'
import { openStore } from '../../lib/data/store'
import { currentBuild } from '../../lib/desk/build.mjs'
import { enrolDevice, makeDeviceCode } from '../../lib/shop/devices'
import { signIn } from '../../lib/shop/sign-in'
import { sendPlainForm } from '../browser/support/plain-form'
import { type RunningShop, root, startShop } from '../browser/support/server'
import { neverKept } from '../support/failing-bikes'
import { acknowledgedWritesBesideFailures } from '../support/isolation'
import { done, type OpenShop, openTestShop, pins } from '../support/open-shop'
import { measured, takenIn } from '../support/readings'
import { removeFolder } from '../support/shop-folder'

const built = currentBuild(root) !== null
if (!built) console.warn('The isolation of the server is not tried: there is no build. `npm test` makes one.')

/** Wrong PINs that one device may try before it has to wait. */
const freeTries = 3

describe.skipIf(!built)('writes acknowledged by the built server', () => {
  let made: OpenShop
  let server: RunningShop
  let bike: string
  let technician: string
  let cookie: string
  const devices: string[] = []
  const counts = { writes: 600, failures: 150, looks: 100 }
  const wrongPins = 30

  beforeAll(async () => {
    made = await openTestShop()
    ;({ bike } = await takenIn(made))
    technician = made.technician.who!.personId
    const now = new Date()
    const entered = await signIn({ person: technician, pin: pins.technician }, { ...made.nobody, now })
    cookie = `sl_device=${made.deviceToken}; sl_session=${done(entered).token}`
    for (let n = 0; n < wrongPins / freeTries; n += 1) {
      const { code } = done(await makeDeviceCode({}, made.manager))
      devices.push(done(await enrolDevice({ code, deviceName: `tablet ${n}` }, made.nobody)).deviceToken)
    }
    await made.store.close()
    server = await startShop({ folder: made.folder, alongside: 'tests/support/failing-bikes.ts' })
  })
  afterAll(() => removeFolder(made.folder))

  it('are all there after a power cut, beside transactions that failed over a password hash', async () => {
    // One queue for all three, so that they stay shuffled into each other.
    const next = lanes(20)

    const outcome = await acknowledgedWritesBesideFailures({
      counts,
      writes: [(n) => next(() => recorded(n))],
      fail: (n) => next(() => (n < wrongPins ? wrongPin(n) : failedTransaction())),
      dirty: () => next(unfinishedBikesShown),
      stored: async () => {
        await server.crash()
        return readingsOnDisk()
      },
    }).catch((error: unknown) => {
      throw new Error(`${String(error)}\n${server.printed()}`)
    })

    expect(outcome).toEqual({ acknowledged: 600, lost: [], dirtyReads: 0, leftovers: 0, falseSuccesses: 0 })
    expect(refusedAsMeant).toBe(counts.failures)
  })

  /** A reading sent as a tablet sends it; its id once the server has said that it is kept. */
  async function recorded(n: number): Promise<string> {
    const body = measured(bike, (2 + (n % 40) / 10).toFixed(1))
    const operation = { id: uuidv7(), author: technician, deed: 'record-reading', body }
    const answer = await fetch(`${server.url}/api/v1/sync`, {
      method: 'POST',
      headers: { cookie, origin: server.url },
      body: JSON.stringify({ operations: [operation] }),
    })
    const told = (await answer.json()) as { answers?: { ok: boolean }[] }
    if (told.answers?.[0]?.ok !== true) throw new Error(`not taken: ${JSON.stringify(told)}`)
    return body.id
  }

  /** Somebody at another tablet whose PIN is wrong: the sign-in page's own form. Throws as a failure must. */
  async function wrongPin(n: number): Promise<never> {
    const { text, location } = await sendPlainForm({
      page: `${server.url}/sign-in?person=${technician}`,
      form: 'Sign in',
      cookie: `sl_device=${devices[Math.floor(n / freeTries)]}`,
      fields: { pin: '111111' },
    })
    if (location === null && text.includes('That PIN is not right')) refusedAsMeant += 1
    throw new Error('The PIN was refused, or the sign-in page has changed')
  }

  async function failedTransaction(): Promise<unknown> {
    try {
      return await server.ask('fail')
    } catch (error) {
      if (/on purpose/.test(String(error))) refusedAsMeant += 1
      throw error
    }
  }

  /** Bikes of failing transactions as the list shows them; after the crash, as they stand on the disk. */
  async function unfinishedBikesShown(): Promise<number> {
    if (crashed) return bikesLeft
    const page = await fetch(`${server.url}/bikes?search=${neverKept}`, { headers: { cookie } })
    const text = await page.text()
    if (page.status !== 200) throw new Error(`the list of bikes answered ${page.status}`)
    return text.includes('No bike fits this') ? 0 : 1
  }

  let refusedAsMeant = 0
  let crashed = false
  let bikesLeft = 0
  async function readingsOnDisk(): Promise<Set<string>> {
    crashed = true
    const store = await openStore(made.folder)
    try {
      bikesLeft = await store.db.bike.count({ where: { make: neverKept } })
      expect(await checkChain(store.db)).toMatchObject({ ok: true })
      expect(await checkReadings(store.db)).toEqual([])
      const rows = await store.db.reading.findMany({ select: { id: true } })
      return new Set(rows.map(({ id }) => id))
    } finally {
      await store.close()
    }
  }
})

/** Runs what it is given, so many at a time: a queue longer than the database's patience proves nothing. */
function lanes(most: number): <T>(work: () => Promise<T>) => Promise<T> {
  let running = 0
  const waiting: (() => void)[] = []
  return async (work) => {
    while (running >= most) await new Promise<void>((go) => waiting.push(go))
    running += 1
    try {
      return await work()
    } finally {
      running -= 1
      waiting.shift()?.()
    }
  }
}
