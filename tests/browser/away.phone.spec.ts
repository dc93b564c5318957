import type { Locator, Page } from '@playwright/test'
import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, names, startDemo } from './support/demo'
import { fillNote } from './support/prices'
import { answer } from './support/sheet'
import { expect, test } from './support/watched'

/** Without a network what is asked of the server fails, and is asked again. */
test.use({ provoked: [/ERR_INTERNET_DISCONNECTED/] })

let demo: Demo
test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

test('a viewing in flight mode: taken in, looked over, priced, offered for; and all of it on the server later', async ({
  page,
  context,
}) => {
  await comeIn(context, demo.people.dealer, demo.url)
  await page.goto(`${demo.url}/away`)
  await expect(page.getByRole('heading', { level: 1, name: 'Away from the shop' })).toBeVisible()
  await expect(page.getByRole('link', { name: 'Take in a viewing' })).toBeVisible()
  await expectAccessible(page)
  await context.setOffline(true)

  await test.step('takes the viewing in: what is missing is said at its field, and what was typed stays', async () => {
    await page.getByRole('link', { name: 'Take in a viewing' }).click()
    const form = page.getByRole('form', { name: 'New viewing' })
    await form.getByRole('textbox', { name: 'Model', exact: true }).fill('600 single')
    await form.getByRole('button', { name: 'Take it in' }).click()
    await expect(page.getByRole('alert').filter({ hasText: 'Give the make.' })).toBeVisible()
    await expect(form.getByRole('textbox', { name: 'Model', exact: true })).toHaveValue('600 single')
    await form.getByRole('combobox', { name: 'Make', exact: true }).fill('Mirefield')
    await form.getByRole('textbox', { name: 'Asking price' }).fill('1380')
    await expectAccessible(page)
    await form.getByRole('button', { name: 'Take it in' }).click()
    await expect(page.getByRole('heading', { level: 1, name: 'Short round' })).toBeVisible()
    await expect(page.locator('main header')).toContainText('Not numbered yet')
  })

  await test.step('does the round: what was answered is on this phone', async () => {
    const left = page.locator('main header')
    const before = await checksLeft(left)
    const first = page.getByRole('article').getByRole('heading', { level: 2 })
    const title = await first.textContent()
    await page.getByRole('group', { name: 'What is it like?' }).getByRole('button').first().click()
    await expect.poll(() => checksLeft(left)).toBeLessThan(before)
    await expect(first).not.toHaveText(title ?? '')
    await page
      .getByRole('region', { name: 'All of the short round' })
      .getByRole('button', { name: /^Tank inside/ })
      .click()
    await answer(page, 'Rust flakes')
    await expect(
      page.getByRole('status').filter({ hasText: 'No network: 1 viewing, 2 readings' }),
    ).toBeVisible()
    await expectAccessible(page)
  })

  await test.step('notes three prices, and three prices of his own stand there', async () => {
    await part(page, 'Prices noted')
    const form = page.getByRole('form', { name: 'Note a price' })
    for (const [index, price] of ['2,795', '2,650', '2,720'].entries()) {
      await fillNote(page, { of: form, asked: 'Sold', market: 'Dealer', price })
      await form.getByRole('button', { name: 'Note this price' }).click()
      await expect(page.getByRole('listitem').filter({ hasText: '£' })).toHaveCount(index + 1)
    }
    await expectAccessible(page)
    await part(page, 'Deal')
    const { open, aim, walkAway } = await threePrices(page)
    expect(open).toBeGreaterThan(0)
    expect(open).toBeLessThanOrEqual(aim)
    expect(aim).toBeLessThanOrEqual(walkAway)
    await expect(page.getByRole('heading', { name: 'Which check next' })).toBeVisible()
    await expectAccessible(page)
  })

  const here = await threePrices(page)

  await test.step('makes an offer and holds the sheet out: nothing of the shop’s side is on it', async () => {
    await page.getByRole('link', { name: 'Make an offer' }).click()
    const form = page.getByRole('form', { name: 'Offer' })
    await form.getByRole('textbox', { name: 'Price offered' }).fill('640')
    await form.getByRole('button', { name: 'Write the offer down' }).click()
    await expect(page.getByRole('article', { name: /seller/ })).toContainText('£640')
    const shown = await page.getByRole('main').textContent()
    expect(shown).not.toMatch(/walk[- ]?away|margin|profit|sale price|1,?380/i)
    await expectAccessible(page)
  })

  await test.step('fits a narrow screen and text at 400 per cent, and goes by the keyboard', async () => {
    await page.setViewportSize({ width: 320, height: 640 })
    for (const name of ['offer', 'deal', 'prices', 'round']) {
      await goByHash(page, name)
      await expect(page.getByRole('navigation', { name: 'Parts of this viewing' })).toBeVisible()
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)
      expect(wide, `${name} is wider than the screen`).toBeLessThanOrEqual(0)
    }
    await page.setViewportSize({ width: 390, height: 844 })
    const toDeal = page
      .getByRole('navigation', { name: 'Parts of this viewing' })
      .getByRole('link', { name: 'Deal' })
    await toDeal.focus()
    await page.keyboard.press('Enter')
    await threePrices(page)
  })

  await test.step('with the network back all of it is on the server, with the same figures', async () => {
    const offered = await threePrices(page)
    await context.setOffline(false)
    await page.evaluate(() => window.dispatchEvent(new Event('online')))
    await expect(page.locator('main header')).toContainText(/Viewing \d+/, { timeout: 30_000 })
    await expect(page.getByText('On the server')).toBeVisible()
    const viewing = /Viewing (\d+)/.exec((await page.locator('main header').textContent()) ?? '')?.[1]
    await page.goto(`${demo.url}/bikes/${viewing}/deal`)
    const there = await threePrices(page)
    expect(there).toEqual(offered)
    expect(there.walkAway).toBe(here.walkAway)
    await page.goto(`${demo.url}/bikes/${viewing}/offer`)
    await expect(page.getByRole('article')).toContainText('£640')
    await page.goto(`${demo.url}/bikes/${viewing}/prices`)
    await expect(page.getByRole('main').locator('header')).toContainText('by 3 noted prices')
  })
})

test.describe('in flight mode from the start', () => {
  test.use({ serviceWorkers: 'allow', provoked: [/ERR_INTERNET_DISCONNECTED|ERR_FAILED|status of 503/] })

  test('the phone opens the page and works a viewing out of what it keeps', async ({ page, context }) => {
    await comeIn(context, demo.people.dealer, demo.url)
    await page.goto(`${demo.url}/away`)
    await expect(page.getByRole('link', { name: 'Take in a viewing' })).toBeVisible()
    await page.goto(`${demo.url}/device`)
    await expect(page.getByText(/open here without a network/)).toBeVisible({ timeout: 120_000 })
    await context.setOffline(true)
    await page.goto(`${demo.url}/away`)
    await page.getByRole('link', { name: 'Calder 600 four, 1997' }).click()
    await part(page, 'Deal')
    const here = await threePrices(page)
    await context.setOffline(false)
    await page.goto(`${demo.url}/bikes/5/deal`)
    expect(await threePrices(page)).toEqual(here)
  })
})

test('a phone that is nobody’s own keeps nothing, and says so', async ({ page, context }) => {
  await comeIn(context, await demo.atTheBench(names.dealer), demo.url)
  await page.goto(`${demo.url}/away`)
  await expect(page.getByText('Nothing is kept here')).toBeVisible()
  await expect(page.getByText(/This device is not your own/)).toBeVisible()
  await expectAccessible(page)
})

async function part(page: Page, name: string): Promise<void> {
  await page.getByRole('navigation', { name: 'Parts of this viewing' }).getByRole('link', { name }).click()
  await awake(page)
}

async function goByHash(page: Page, name: string): Promise<void> {
  await page.evaluate((last) => {
    const [, bike] = window.location.hash.split('/')
    window.location.hash = `#/${bike}/${last}`
  }, name)
}

async function checksLeft(head: Locator): Promise<number> {
  return Number(/(\d+) of \d+ checks to do/.exec((await head.textContent()) ?? '')?.[1] ?? Number.NaN)
}

async function threePrices(page: Page): Promise<{ open: number; aim: number; walkAway: number }> {
  const three = page.getByRole('region', { name: 'Three prices' })
  await expect(three).toBeVisible()
  const text = (await three.textContent()) ?? ''
  const told = (term: string) =>
    Number((new RegExp(`${term}.*?£([\\d,]+)`).exec(text)?.[1] ?? '').replace(',', ''))
  return { open: told('Open at'), aim: told('Aim for'), walkAway: told('Walk away above') }
}
