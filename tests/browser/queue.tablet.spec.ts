import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Browser, BrowserContext, Page } from '@playwright/test'
import sharp from 'sharp'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import type { SignedIn } from './support/people'
import { answer, openCheck, record } from './support/sheet'
import { expect, test, watch } from './support/watched'

/*
 * What a tablet has kept and the server does not simply take: something it refuses, a clock that is wrong, and the
 * queue of an older build.
 */

let demo: Demo

test.use({ provoked: [/ERR_FAILED/] })

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

test('what the server refuses holds up nothing, and stays with what was typed until a person puts it away', async ({
  page,
  context,
  browser,
  complaints,
}) => {
  const { bike, checks } = await aBike('KITE 71')
  await comeIn(context, demo.people.technician, demo.url)
  await open(page, checks)
  await answer(page, 'Dry, no smell')
  await expect(page.getByText('All sent.')).toBeVisible()
  await page.reload()
  await awake(page)

  await test.step('without a network an answer is corrected, and more is recorded', async () => {
    await cutOff(context)
    await openCheck(page, 'Fuel smell and leaks')
    await page.getByRole('button', { name: 'Correct Dry, no smell' }).click()
    await answer(page, 'Smell, nothing found')
    await openCheck(page, 'Front tread depth')
    await record(page, '4.2')
    const buffer = await sharp({ create: { width: 320, height: 240, channels: 3, background: '#63513d' } })
      .jpeg()
      .toBuffer()
    const photo = { name: 'tread.jpg', mimeType: 'image/jpeg', buffer }
    await page.getByLabel('Take a photo').setInputFiles(photo)
    await expect(page.getByText(/^No network: 2 readings, 1 photo on this tablet/)).toBeVisible()
  })

  await test.step('meanwhile somebody else corrects the same answer', async () => {
    const other = await besideIt(browser, { who: demo.people.dealer, checks, complaints })
    await openCheck(other, 'Fuel smell and leaks')
    await other.getByRole('button', { name: 'Correct Dry, no smell' }).click()
    await answer(other, 'Damp or stained')
    await expect(other.getByText('All sent.')).toBeVisible()
    await other.context().close()
  })

  const notTaken = page.getByRole('alert', { name: 'Not taken' })
  await test.step('with one again all the rest arrives, and this says why it did not', async () => {
    await backOnline(context, page)
    await expect(notTaken).toContainText('Fuel smell and leaks: Smell, nothing found')
    await expect(notTaken).toContainText('Somebody else corrected this reading already. Look at it again.')
    await expect
      .poll(async () => (await demo.readings(bike)).map(({ value }) => value))
      .toEqual(['dry', 'damp', '4.2'])
    await expect.poll(async () => (await demo.photos(bike)).length).toBe(1)
  })

  await test.step('it outlives the page, and the page of the device has it too until it is put away', async () => {
    await page.reload()
    await awake(page)
    await expect(notTaken).toContainText('Smell, nothing found')
    await page.goto(`${demo.url}/device`)
    await awake(page)
    await expect(page.getByRole('main')).toContainText('Not yet on the server0')
    await page.getByRole('button', { name: 'Put away Fuel smell and leaks' }).click()
    await expect(page.getByRole('heading', { name: 'Needs a look' })).toHaveCount(0)
    await open(page, checks)
    await expect(notTaken).toHaveCount(0)
  })
})

for (const { plate, days, here, there } of [
  { plate: 'KITE 72', days: 5, here: '120 hours ahead of the server’s', there: '5 days fast' },
  { plate: 'KITE 73', days: -5, here: '120 hours behind the server’s', there: '5 days slow' },
]) {
  test(`a clock that is ${there} changes no order, and both ends say that it is wrong`, async ({
    page,
    context,
    browser,
    complaints,
  }) => {
    const { bike, checks } = await aBike(plate)
    const began = new Date().toISOString()
    await context.addInitScript(shiftClock, days * 24 * 3600 * 1000)
    await comeIn(context, demo.people.technician, demo.url)
    await open(page, checks)
    await cutOff(context)
    await openCheck(page, 'Front tread depth')
    await record(page, '4.2')
    await expect(page.getByText(/^No network: 1 reading on this tablet/)).toBeVisible()

    const other = await besideIt(browser, { who: demo.people.manager, checks, complaints })
    await openCheck(other, 'Front tread depth')
    await record(other, '3.9')
    await expect(other.getByText('All sent.')).toBeVisible()

    await backOnline(context, page)
    await expect(page.getByText('All sent.')).toBeVisible()
    const kept = await demo.readings(bike)
    // In the order in which they arrived; and each at the moment when it was really taken.
    expect(kept.map(({ value }) => value)).toEqual(['3.9', '4.2'])
    const [later, earlier] = kept.map(({ takenAt }) => takenAt)
    const inOrder = [began, earlier, later, new Date().toISOString()]
    expect([...inOrder].sort()).toEqual(inOrder)

    await page.goto(`${demo.url}/device`)
    await awake(page)
    await expect(page.getByRole('main')).toContainText(`${here}; put right by the server`)
    await other.goto(`${demo.url}/settings/people`)
    await expect(other.getByRole('main')).toContainText(`Its clock is ${there}. Set it right on the device.`)
    await other.context().close()
  })
}

test('the queue of an older build is taken, as its page sends it and as it lies on the disk', async ({
  page,
  context,
}) => {
  const { bike, checks } = await aBike('KITE 74')
  const { technician } = demo.people
  const stored = async (path: string) => {
    const text = await readFile(join(import.meta.dirname, path), 'utf8')
    return JSON.parse(text.replaceAll('AUTHOR', technician.person).replaceAll('BIKE', bike)) as unknown
  }
  await comeIn(context, technician, demo.url)
  await page.goto(`${demo.url}/manifest.webmanifest`)

  await test.step('a page that was open since then sends in the contract of those days', async () => {
    const sent = await stored('../shop/queues/contract-1-skipped-code-number.json')
    const answered = await page.evaluate(async (body) => {
      const headers = { 'content-type': 'application/json' }
      const response = await fetch('/api/v1/sync', { method: 'POST', headers, body: JSON.stringify(body) })
      return response.json()
    }, sent)
    expect(answered.answers.map(({ ok }: { ok: boolean }) => ok)).toEqual([true, true, true])
  })

  await test.step('what lies on the disk in the first shape goes out by itself', async () => {
    const disk = await stored('queues/disk-1.json')
    await page.evaluate(layDown, disk)
    await open(page, checks)
    await expect(page.getByText('All sent.')).toBeVisible()
    const notTaken = page.getByRole('alert', { name: 'Not taken' })
    await expect(notTaken).toContainText('Rear tread depth, left of the middle: 31 mm')
    const values = (await demo.readings(bike)).map(({ value }) => value)
    expect(values.slice(-2)).toEqual(['steady', '4.4'])
    expect(await demo.photos(bike)).toHaveLength(1)
  })
})

async function aBike(plate: string): Promise<{ bike: string; checks: string }> {
  const viewing = await demo.takeIn({ make: 'Lindale', model: '650', plate })
  const { id: bike } = (await demo.bikes()).find((one) => one.viewingNo === viewing)!
  return { bike, checks: `${demo.url}/bikes/${viewing}/checks` }
}

/** Somebody else at the same sheet, on a tablet of their own. */
async function besideIt(
  browser: Browser,
  { who, checks, complaints }: { who: SignedIn; checks: string; complaints: string[] },
): Promise<Page> {
  const context = await browser.newContext()
  watch(context, complaints)
  await comeIn(context, who, demo.url)
  const page = await context.newPage()
  await open(page, checks)
  return page
}

async function open(page: Page, address: string): Promise<void> {
  await page.goto(address)
  await awake(page)
}

const sending = '**/api/v1/{sync,photos}*'

async function cutOff(context: BrowserContext): Promise<void> {
  await context.route(sending, (route) => route.abort())
}

async function backOnline(context: BrowserContext, page: Page): Promise<void> {
  await context.unroute(sending)
  await page.evaluate(() => window.dispatchEvent(new Event('online')))
}

/** Runs in the page: its clock goes by so much. */
function shiftClock(ahead: number): void {
  const Right = Date
  class Wrong extends Right {
    constructor(...given: unknown[]) {
      if (given.length === 0) super(Right.now() + ahead)
      else super(...(given as [number]))
    }
    static override now(): number {
      return Right.now() + ahead
    }
  }
  globalThis.Date = Wrong as DateConstructor
}

/** Runs in the page: lays down a database as the first build that had one did, with these rows in it. */
async function layDown(disk: unknown): Promise<void> {
  const { outbox, bytes } = disk as {
    outbox: object[]
    bytes: { id: string; type: string; sha256: string | null; base64: string }[]
  }
  const opened = await new Promise<IDBDatabase>((resolve, reject) => {
    const asked = indexedDB.open('stand-ledger', 1)
    asked.onupgradeneeded = () => {
      const db = asked.result
      db.createObjectStore('outbox', { autoIncrement: true }).createIndex('id', 'id', { unique: true })
      db.createObjectStore('bytes', { keyPath: 'id' })
      db.createObjectStore('pack', { keyPath: 'name' })
      db.createObjectStore('meta')
    }
    asked.onsuccess = () => resolve(asked.result)
    asked.onerror = () => reject(asked.error)
  })
  const tx = opened.transaction(['outbox', 'bytes'], 'readwrite')
  for (const row of outbox) tx.objectStore('outbox').add(row)
  for (const { base64, ...rest } of bytes) {
    const raw = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0))
    tx.objectStore('bytes').put({ ...rest, bytes: raw.buffer })
  }
  await new Promise((resolve) => tx.addEventListener('complete', resolve))
  opened.close()
}
