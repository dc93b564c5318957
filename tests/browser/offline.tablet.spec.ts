import type { Locator, Page } from '@playwright/test'
import sharp from 'sharp'
import { uuidv7 } from 'uuidv7'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, names, startDemo } from './support/demo'
import { forGloves } from './support/gloves'
import { answer, openCheck, openedCheck, record } from './support/sheet'
import { crowdedTargets } from './support/targets'
import { expect, test } from './support/watched'

/*
 * A tablet whose network comes and goes. The pages are kept by the worker that every tablet gets over https; a
 * machine of its own counts as safe without, so the real one works here.
 */

let demo: Demo

test.use({
  serviceWorkers: 'allow',
  // One pattern, since two of them in a list are taken for a value with its settings.
  provoked: [/ERR_INTERNET_DISCONNECTED|ERR_FAILED|status of 503/],
})

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

test('a day without a network: fifty findings and twenty photos through a reload and a killed tab, all there once', async ({
  page: first,
  context,
}) => {
  test.setTimeout(400_000)
  const viewing = await demo.takeIn({ make: 'Lindale', model: '650', plate: 'KITE 61' })
  const { id: bike } = (await demo.bikes()).find((one) => one.viewingNo === viewing)!
  await comeIn(context, demo.people.technician, demo.url)
  let page = first
  await pagesKept(page)
  const sheet = `${demo.url}/bikes/${viewing}/checks`

  await test.step('the sheet opens without one, and what is recorded is on this tablet', async () => {
    await context.setOffline(true)
    await page.goto(sheet)
    await awake(page)
    for (const good of ['Dry, no smell', 'Steady']) await answer(page, good)
    await openCheck(page, 'Front tread depth')
    for (let count = 3; count <= 26; count += 1) await note(page, '4.2', count)
  })

  await test.step('loaded again it is all there, and more is added', async () => {
    await page.reload()
    await awake(page)
    await expect(page.getByText(/^No network: 26 readings on this tablet/)).toBeVisible()
    await openCheck(page, 'Front tread depth')
    for (let count = 27; count <= 50; count += 1) await note(page, '4.1', count)
    const picture = await sharp({ create: { width: 320, height: 240, channels: 3, background: '#63513d' } })
      .jpeg()
      .toBuffer()
    for (let count = 1; count <= 20; count += 1) {
      await page
        .getByLabel('Take a photo')
        .setInputFiles({ name: `${count}.jpg`, mimeType: 'image/jpeg', buffer: picture })
      await expect(page.getByText(new RegExp(`\\b${count} photos? on this tablet`))).toBeVisible()
    }
  })

  await test.step('a tab that is killed takes nothing with it', async () => {
    await page.close({ runBeforeUnload: false })
    page = await context.newPage()
    await page.goto(`${demo.url}/device`)
    await awake(page)
    await expect(page.getByRole('main')).toContainText('Not yet on the server70')
    await forGloves(page)
  })

  await test.step('a page that is not kept says so, and leads to those that are', async () => {
    await page.goto(`${demo.url}/bikes/${viewing}/story`)
    await expect(page.getByRole('heading', { level: 1 })).toContainText('not kept on this device')
    await page.getByRole('link', { name: /Lindale 650.*: Checks/ }).click()
    await awake(page)
    await expect(page.getByText(/^No network: 50 readings, 20 photos on this tablet/)).toBeVisible()
  })

  await test.step('with a network that drops three of ten, everything arrives once', async () => {
    let requests = 0
    await context.route('**/api/v1/{sync,photos}*', (route) => {
      requests += 1
      return [2, 5, 8].includes(requests % 10) ? route.abort() : route.continue()
    })
    await context.setOffline(false)
    await expect(page.getByText('All sent.')).toBeVisible({ timeout: 90_000 })
    const kept = await demo.readings(bike)
    expect(kept.map(({ value }) => value)).toEqual([
      'dry',
      'steady',
      ...Array(24).fill('4.2'),
      ...Array(24).fill('4.1'),
    ])
    expect(await demo.photos(bike)).toHaveLength(20)
    expect(requests).toBeGreaterThan(21)
  })
})

test('what was sent is still seen on a kept page', async ({ page, context }) => {
  const viewing = await demo.takeIn({ make: 'Lindale', model: '250', plate: 'KITE 62' })
  await comeIn(context, demo.people.technician, demo.url)
  await pagesKept(page)
  await page.goto(`${demo.url}/bikes/${viewing}/checks`)
  await awake(page)
  await openCheck(page, 'Front tread depth')
  await record(page, '4.2')
  await expect(page.getByText('All sent.')).toBeVisible()
  await context.setOffline(true)
  await page.reload()
  await awake(page)
  await openCheck(page, 'Front tread depth')
  await expect(page.getByRole('region', { name: 'Readings taken' })).toContainText('4.2')
  await context.setOffline(false)
})

test('signing out with unsent work asks; the next person sends it without becoming its author', async ({
  page,
  context,
}) => {
  const viewing = await demo.takeIn({ make: 'Lindale', model: '400', plate: 'KITE 63' })
  const { id: bike } = (await demo.bikes()).find((one) => one.viewingNo === viewing)!
  const wyn = await demo.signIn(names.technician)
  await comeIn(context, wyn, demo.url)
  await page.goto(`${demo.url}/bikes/${viewing}/checks`)
  await awake(page)
  await context.route('**/api/v1/sync', (route) => route.abort())
  await answer(page, 'Dry, no smell')
  await expect(page.getByText(/^No network: 1 reading on this tablet/)).toBeVisible()
  await page.getByRole('button', { name: 'Sign out' }).click()
  const question = page.getByRole('dialog', { name: 'Not everything is on the server yet' })
  await expect(question).toContainText('1 reading on this tablet')
  await question.getByRole('button', { name: 'Leave it here and sign out' }).click()
  await expect(page).toHaveURL(/\/sign-in/)
  await context.unroute('**/api/v1/sync')
  expect(await demo.readings(bike)).toEqual([])

  const idris = await demo.signInBeside(names.dealer, wyn)
  await comeIn(context, idris, demo.url)
  await page.goto(`${demo.url}/device`)
  await expect
    .poll(async () => (await demo.readings(bike)).map(({ value, personId }) => [value, personId]))
    .toEqual([['dry', wyn.person]])
})

test('two tablets on one bike: both answers are kept, and a person says which of them it is', async ({
  page,
  context,
  browser,
}) => {
  const viewing = await demo.takeIn({ make: 'Lindale', model: '900', plate: 'KITE 64' })
  const { id: bike } = (await demo.bikes()).find((one) => one.viewingNo === viewing)!
  const address = `${demo.url}/bikes/${viewing}/checks`
  await comeIn(context, demo.people.technician, demo.url)
  const beside = await browser.newContext()
  await comeIn(beside, demo.people.dealer, demo.url)
  const other = await beside.newPage()
  for (const one of [page, other]) {
    await one.goto(address)
    await awake(one)
  }

  await test.step('one has no network when both answer', async () => {
    await beside.route('**/api/v1/sync', (route) => route.abort())
    await answer(other, 'Smell, nothing found')
    await expect(other.getByText(/^No network: 1 reading on this tablet/)).toBeVisible()
    await answer(page, 'Dry, no smell')
    await expect(page.getByText('All sent.')).toBeVisible()
    await beside.unroute('**/api/v1/sync')
    await other.evaluate(() => window.dispatchEvent(new Event('online')))
    await expect(other.getByText('All sent.')).toBeVisible()
    expect((await demo.readings(bike)).map(({ value }) => value)).toEqual(['dry', 'smell'])
  })

  await test.step('whoever opens the check is asked, and corrects one of them', async () => {
    await page.reload()
    await awake(page)
    await openCheck(page, 'Fuel smell and leaks')
    const asked = page.getByText('Answered differently on two devices: which is it?')
    await expect(asked).toBeVisible()
    await page.getByRole('button', { name: 'Correct Dry, no smell' }).click()
    await answer(page, 'Smell, nothing found')
    await expect(page.getByText('All sent.')).toBeVisible()
    await page.reload()
    await awake(page)
    await openCheck(page, 'Fuel smell and leaks')
    await expect(page.getByRole('region', { name: 'Readings taken' })).toBeVisible()
    await expect(asked).toBeHidden()
  })
  await beside.close()
})

test('without a network the photos of the server are seen, one is taken and marked, and all of it arrives', async ({
  page,
  context,
}) => {
  const viewing = await demo.takeIn({ make: 'Lindale', model: '750', plate: 'KITE 65' })
  const { id: bike } = (await demo.bikes()).find((one) => one.viewingNo === viewing)!
  await comeIn(context, demo.people.technician, demo.url)
  const onServer = uuidv7()
  const facts = { id: onServer, bike, check: 'fuel-leaks', takenAt: new Date().toISOString() }
  const added = await context.request.post(`${demo.url}/api/v1/photos?${new URLSearchParams(facts)}`, {
    data: await picture('#3d5163'),
    headers: { origin: demo.url, 'content-type': 'application/octet-stream' },
  })
  expect(added.ok()).toBe(true)
  await pagesKept(page)
  const photos = openedCheck(page).getByRole('img', { name: /taken by Wyn/ })
  const dialog = page.getByRole('dialog', { name: 'Mark the photo' })

  await test.step('what the server has is seen on the kept page', async () => {
    await context.setOffline(true)
    await page.goto(`${demo.url}/bikes/${viewing}/checks`)
    await awake(page)
    await openCheck(page, 'Fuel smell and leaks')
    await expect(photos).toHaveCount(1)
    await expect.poll(() => widthOf(photos)).toBeGreaterThan(0)
  })

  await test.step('one is taken, and an arrow drawn on it by two taps', async () => {
    await page
      .getByLabel('Take a photo')
      .setInputFiles({ name: 'seam.jpg', mimeType: 'image/jpeg', buffer: await picture('#63513d') })
    await expect(openedCheck(page).getByText('Photo on this tablet')).toBeVisible()
    await page.getByRole('button', { name: 'Mark it' }).nth(1).click()
    await forGloves(page)
    expect(await crowdedTargets(page, 8)).toEqual([])
    const drawn = dialog.getByRole('button', { name: /^The photo/ })
    const { width, height } = (await drawn.boundingBox())!
    await drawn.click({ position: { x: width * 0.3, y: height * 0.3 } })
    await drawn.click({ position: { x: width * 0.6, y: height * 0.6 } })
    await dialog.getByRole('button', { name: 'Save the marks' }).click()
    await expect(dialog).toBeHidden()
    await expect(openedCheck(page).getByText('Marks on this tablet')).toBeVisible()
  })

  await test.step('a circle is put on that of the server by keys alone', async () => {
    const mark = page.getByRole('button', { name: 'Mark it' })
    await mark.focus()
    await page.keyboard.press('Enter')
    await dialog.getByRole('button', { name: 'Circle' }).focus()
    await page.keyboard.press('Space')
    await page.keyboard.press('Tab')
    await page.keyboard.press('Enter')
    await dialog.getByRole('button', { name: 'Save the marks' }).focus()
    await page.keyboard.press('Enter')
    await expect(dialog).toBeHidden()
    await expect(page.getByText(/^No network: 1 photo, 2 drawings on photos on this tablet/)).toBeVisible()
  })

  await test.step('loaded again both are seen with what is drawn on them', async () => {
    await page.reload()
    await awake(page)
    await openCheck(page, 'Fuel smell and leaks')
    await expect(photos).toHaveCount(2)
    await expect(photos.nth(0)).toHaveAccessibleName(/1 circle$/)
    await expect(photos.nth(1)).toHaveAccessibleName(/1 arrow$/)
    await expect.poll(() => widthOf(photos)).toBeGreaterThan(0)
  })

  await test.step('with a network the server has the photo, and both drawings', async () => {
    await context.setOffline(false)
    await expect(page.getByText('All sent.')).toBeVisible({ timeout: 60_000 })
    const kept = await demo.photos(bike)
    expect(kept).toHaveLength(2)
    const kinds = (marks = '') => (JSON.parse(marks) as { kind: string }[]).map(({ kind }) => kind)
    expect(kinds(kept.find(({ id }) => id === onServer)?.marks)).toEqual(['circle'])
    expect(kinds(kept.find(({ id }) => id !== onServer)?.marks)).toEqual(['arrow'])
    await expect(openedCheck(page).getByText('on this tablet')).toHaveCount(0)
  })
})

const picture = (background: string) =>
  sharp({ create: { width: 320, height: 240, channels: 3, background } })
    .jpeg()
    .toBuffer()

/** Of the narrowest picture; a broken one has none. */
const widthOf = (pictures: Locator) =>
  pictures.evaluateAll((all) => Math.min(...all.map((one) => (one as HTMLImageElement).naturalWidth)))

/** The figure is typed, so that fifty of them take a moment; the keys have their own test. */
async function note(page: Page, value: string, count: number): Promise<void> {
  const box = page.getByRole('textbox', { name: /^Reading/ })
  const again = page.getByRole('button', { name: 'Measure again' })
  await expect(box.or(again)).toBeVisible()
  if (await again.isVisible()) await again.click()
  await box.fill(value)
  await page.getByRole('button', { name: 'Record', exact: true }).click()
  await expect(page.getByText(new RegExp(`^No network: ${count} readings on this tablet`))).toBeVisible()
}

/** What a person sees who wants to know whether the tablet may leave the shop. */
async function pagesKept(page: Page): Promise<void> {
  await page.goto(`${demo.url}/device`)
  await expect(page.getByText(/open here without a network/)).toBeVisible({ timeout: 120_000 })
}
