import type { Page } from '@playwright/test'
import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { answer, openCheck, openedCheck, tapChoice } from './support/sheet'
import { expect, test } from './support/watched'

let demo: Demo
let viewingNo: number

test.beforeAll(async () => {
  demo = await startDemo()
  viewingNo = await demo.takeIn({ make: 'Lindale', model: '500', plate: 'KITE 12' })
})
test.afterAll(() => demo?.close())

const onePixel = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  'base64',
)

/** Counts what a finger does on the page from here on. */
async function countTaps(page: Page): Promise<() => Promise<number>> {
  await page.evaluate(() => {
    document.documentElement.dataset.taps = '0'
    const count = () => {
      const { dataset } = document.documentElement
      dataset.taps = String(Number(dataset.taps) + 1)
    }
    document.addEventListener('click', (event) => event.isTrusted && event.detail > 0 && count(), true)
  })
  return () => page.evaluate(() => Number(document.documentElement.dataset.taps))
}

test('a technician in gloves and in the sun records in a few taps, keeps what is left in sight, and undoes without haste', async ({
  page,
  context,
}) => {
  await comeIn(context, demo.people.technician, demo.url)
  await page.goto(`${demo.url}/bikes/${viewingNo}/checks`)
  await awake(page)

  await test.step('a finding is two taps from the sheet, and with the camera no more than six', async () => {
    const taps = await countTaps(page)
    await openCheck(page, 'Oil smelt and looked at')
    await answer(page, 'Black or gritty')
    await expect(openedCheck(page)).toContainText('Outside')
    expect(await taps()).toBeLessThanOrEqual(4)
    const camera = page.waitForEvent('filechooser')
    await page.getByText('Take a photo').click()
    // Beyond this page are the two of the camera itself: its shutter, and "use this".
    await (await camera).setFiles({ name: 'oil.png', mimeType: 'image/png', buffer: onePixel })
    await expect(
      page.getByRole('status').filter({ hasText: 'Oil smelt and looked at, a photo' }),
    ).toBeVisible()
    expect((await taps()) + 2).toBeLessThanOrEqual(6)
  })

  await test.step('a photo is undone like everything else', async () => {
    await page.getByRole('button', { name: /^Undo/ }).click()
    await expect(page.getByRole('status').filter({ hasText: 'Taken back: Oil smelt' })).toBeVisible()
    await expect(page.getByText('All sent.')).toBeVisible()
    await expect(openedCheck(page).getByRole('img', { name: /taken by Wyn/ })).toHaveCount(0)
    await page.getByRole('button', { name: 'Check again' }).click()
    await answer(page, 'Black or gritty')
    await expect(openedCheck(page)).toContainText('Outside')
  })

  await test.step('what comes before anything else is asked for first, from wherever one stands', async () => {
    await expect(page.getByRole('button', { name: 'Next: Fuel smell and leaks' })).toBeVisible()
  })

  await test.step('what is left and what is shut stays in sight at the end of the page, with the way to undo', async () => {
    await page.evaluate(() => window.scrollTo(0, document.body.scrollHeight))
    await expect(page.getByText(/^Cold round: \d+ of \d+ to do$/)).toBeInViewport()
    await expect(page.getByText('Running and Road shut')).toBeInViewport()
    await expect(page.getByRole('button', { name: /^Undo/ })).toBeInViewport()
  })

  await test.step('ten seconds later, and ten minutes, it can still be undone', async () => {
    await page.clock.install()
    await page.clock.fastForward('10:00')
    await page.getByRole('button', { name: /^Undo/ }).click()
    await expect(page.getByRole('status').filter({ hasText: 'Taken back: Oil smelt' })).toBeVisible()
    await expect(openedCheck(page)).toContainText('taken back by Wyn')
    await page.clock.resume()
  })

  await test.step('a length is typed in inches with a comma and kept as it was typed', async () => {
    await openCheck(page, 'Front tread depth')
    await tapChoice(page, '1/32 in')
    await page.getByRole('textbox', { name: /^Reading/ }).fill('5,5')
    await page.keyboard.press('Enter')
    await expect(
      page
        .getByText('All sent.')
        .or(page.getByText(/on the server/i))
        .first(),
    ).toBeVisible()
    await page.reload()
    await awake(page)
    await openCheck(page, 'Front tread depth')
    await expect(page.getByRole('region', { name: 'Readings taken' })).toContainText('5,5 1/32 in')
  })

  await test.step('dark by choice: everything reads as well, it stays chosen, and paper stays white', async () => {
    const dark = page.getByRole('button', { name: /^Dark screen/ })
    await dark.click()
    await expect(dark).toHaveAttribute('aria-pressed', 'true')
    await expectAccessible(page, { bench: true })
    await page.reload()
    await awake(page)
    await expect(dark).toHaveAttribute('aria-pressed', 'true')
    await expect(page.locator('html')).toHaveCSS('background-color', 'rgb(20, 17, 12)')
    await page.emulateMedia({ media: 'print' })
    await expect(page.locator('html')).toHaveCSS('background-color', 'rgb(255, 255, 255)')
    await page.emulateMedia({ media: null })
    await dark.click()
    await expect(page.locator('html')).toHaveCSS('background-color', 'rgb(245, 240, 230)')
  })
})

test('a manager’s board, deal and bench plan read as well in the dark', async ({ page, context }) => {
  await comeIn(context, demo.people.manager, demo.url)
  await context.addCookies([{ name: 'look', value: 'dark', url: demo.url }])
  for (const address of ['/board', '/bikes/5/deal', '/bench']) {
    await page.goto(demo.url + address)
    await awake(page)
    await expectAccessible(page, { bench: true })
  }
})

test.describe('without a network', () => {
  test.use({ provoked: [/ERR_INTERNET_DISCONNECTED/] })

  test('a form that is sent without a network says so, and nothing typed is lost', async ({
    page,
    context,
  }) => {
    await comeIn(context, demo.people.manager, demo.url)
    await page.goto(`${demo.url}/bikes/new`)
    await awake(page)
    const form = page.getByRole('form', { name: 'New viewing' })
    await form.getByRole('combobox', { name: 'Make', exact: true }).fill('Lindale')
    const model = form.getByRole('textbox', { name: 'Model', exact: true })
    await model.fill('350')
    await context.setOffline(true)
    await form.getByRole('button', { name: 'Take it in' }).click()
    await expect(form.getByRole('alert')).toContainText('No network: nothing was sent')
    await expect(model).toHaveValue('350')
    await context.setOffline(false)
    await form.getByRole('button', { name: 'Take it in' }).click()
    await expect(page.getByRole('heading', { level: 1, name: /Lindale 350/ })).toBeVisible()
  })
})
