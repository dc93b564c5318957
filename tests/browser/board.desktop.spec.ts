import type { Page } from '@playwright/test'
import { expectAccessible } from './support/accessible'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { expect, test } from './support/watched'
import { workedOut } from './support/worked-out'

let demo: Demo

test.beforeAll(async () => {
  demo = await startDemo()
  // Nothing of the invented shop is still being worked out when a test begins.
  await demo.bikes()
})
test.afterAll(() => demo?.close())

const lineOf = (page: Page, name: string) =>
  page.getByRole('article').filter({ has: page.getByRole('heading', { name: new RegExp(name) }) })

/** The page as it comes from the server, before its script brings anything. */
async function come(page: Page, path: string): Promise<string> {
  const answer = await page.goto(demo.url + path)
  return (await answer?.text()) ?? ''
}

test('a bike just taken in stands on the board by its name, and its figures come by themselves', async ({
  page,
  context,
}) => {
  await comeIn(context, demo.people.dealer, demo.url)
  await demo.takeIn({ make: 'Lindale', model: '250', plate: 'LARK 31' })
  const sent = await come(page, '/board')
  expect(sent).toContain('Being worked out.')
  expect(sent).toContain('1 bike being worked out')
  const line = lineOf(page, 'Lindale 250')
  await expect(line.getByRole('term').filter({ hasText: /^Margin$/ })).toBeVisible()
  await workedOut(page)
  await expectAccessible(page)
})

test('figures of before are marked as such until the new ones come, to whoever looks without scripts as well', async ({
  browser,
}) => {
  const viewing = await demo.takeIn({ make: 'Lindale', model: '350', plate: 'LARK 32' })
  const bikes = await demo.bikes()
  expect(bikes.map(({ viewingNo }) => viewingNo)).toContain(viewing)
  await demo.limit({ viewing, check: 'disc-rear', min: '4', asNew: '5', saleMin: '4.5' })

  const plain = await browser.newContext({ javaScriptEnabled: false })
  await comeIn(plain, demo.people.dealer, demo.url)
  const page = await plain.newPage()
  await page.goto(`${demo.url}/board`)
  const line = lineOf(page, 'Lindale 350')
  await expect(line.getByText('Figures from before: being worked out again.')).toBeVisible()
  await expect(line.getByRole('term').filter({ hasText: /^Margin$/ })).toBeVisible()
  await expect(async () => {
    await page.reload()
    await expect(page.getByText(/being worked out/i)).toHaveCount(0, { timeout: 100 })
  }).toPass()
  await expect(line).toBeVisible()
  await plain.close()
})

for (const by of ['Gain from going on', 'Left after its keep', 'Days to sold']) {
  test(`the board can be ordered by ${by.toLowerCase()}, what has none last`, async ({ page, context }) => {
    await comeIn(context, demo.people.manager, demo.url)
    await page.goto(`${demo.url}/board`)
    await page.getByRole('combobox', { name: 'Ordered by' }).selectOption(by)
    await page.getByRole('button', { name: 'Show' }).click()
    const list = page.getByRole('list', { name: `Bikes, ordered by ${by.toLowerCase()}` })
    await expect(list).toBeVisible()
    const figures = list
      .getByRole('term')
      .filter({ hasText: new RegExp(`^${by}$`) })
      .locator('xpath=following-sibling::dd')
    const written = (await figures.allTextContents()).map((text) => text.replace(/\(.*/, ''))
    expect(written.length).toBeGreaterThanOrEqual(10)
    const values = written.map((text) =>
      /\d/.test(text) ? Number(text.replace('−', '-').replace(/[^\d.-]/g, '')) : null,
    )
    const last = by === 'Days to sold' ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY
    const known = values.map((value) => value ?? last)
    expect(known).toEqual([...known].sort((a, b) => (by === 'Days to sold' ? a - b : b - a)))
  })
}
