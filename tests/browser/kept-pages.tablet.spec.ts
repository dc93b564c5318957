import type { BrowserContext, Page } from '@playwright/test'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { expect, test } from './support/watched'

/* What a tablet keeps of the shop does not outlive the right to it. */

let demo: Demo

test.use({
  serviceWorkers: 'allow',
  provoked: [/ERR_INTERNET_DISCONNECTED|ERR_FAILED|status of (401|503)/],
})

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

test('pages that were kept are gone after a fortnight without the server', async ({ page, context }) => {
  await comeIn(context, demo.people.technician, demo.url)
  await pagesKept(page)
  await heardBefore(page, 13.9)
  await context.setOffline(true)
  await page.goto(`${demo.url}/words`)
  await expect(page.getByRole('heading', { level: 1, name: 'Words' })).toBeVisible()
  await heardBefore(page, 14.1)
  await nothingIsKept(page)
  await context.setOffline(false)
})

test('pages that were kept are gone once the device is shut out', async ({ page, context }) => {
  const wyn = await demo.signIn('Wyn')
  await comeIn(context, wyn, demo.url)
  await pagesKept(page)
  await demo.shutOut(wyn)
  await page.getByRole('button', { name: 'Send now' }).click()
  await expect.poll(() => keptCaches(page)).toEqual([])
  await offlineNothingIsKept(page, context)
})

test('pages that were kept are gone at sign-in, whoever comes next', async ({ page, context }) => {
  const wyn = await demo.signIn('Wyn')
  await comeIn(context, wyn, demo.url)
  await pagesKept(page)
  await page.getByRole('button', { name: 'Sign out' }).click()
  await expect(page).toHaveURL(/\/sign-in/)
  await expect.poll(() => keptCaches(page)).toEqual([])
  await offlineNothingIsKept(page, context)
})

async function pagesKept(page: Page): Promise<void> {
  await page.goto(`${demo.url}/device`)
  await expect(page.getByText(/open here without a network/)).toBeVisible({ timeout: 120_000 })
  await awake(page)
}

async function offlineNothingIsKept(page: Page, context: BrowserContext): Promise<void> {
  await context.setOffline(true)
  await nothingIsKept(page)
  await context.setOffline(false)
}

async function nothingIsKept(page: Page): Promise<void> {
  await page.goto(`${demo.url}/words`)
  await expect(page.getByRole('heading', { level: 1 })).toContainText('not kept on this device')
  await expect(page.getByRole('main')).toContainText('Nothing is kept here')
  expect(await keptCaches(page)).toEqual([])
}

/** Names of what holds pages or pictures of the shop. */
function keptCaches(page: Page): Promise<string[]> {
  return page.evaluate(async () =>
    (await caches.keys()).filter((name) => !/-(assets|about)$/.test(name.split(' ')[0] ?? '')),
  )
}

/** As if the server had last been heard of so many days ago. */
async function heardBefore(page: Page, days: number): Promise<void> {
  await page.evaluate(async (days) => {
    const cache = await caches.open('stand-ledger-about')
    const [request] = await cache.keys()
    const about = await (await cache.match(request!))!.json()
    const heardAt = Date.now() - days * 24 * 3600 * 1000
    await cache.put(request!, Response.json({ ...about, heardAt }))
  }, days)
}
