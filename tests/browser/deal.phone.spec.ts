import type { Locator, Page } from '@playwright/test'
import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { type Demo, names, startDemo } from './support/demo'
import { fillNote } from './support/prices'
import { answer } from './support/sheet'
import { chooseName, tapPin } from './support/sign-in'
import { expect, test } from './support/watched'

/** On the seller's side the pages of the shop's money are not there. */
test.use({ provoked: [/404 \(Not Found\) \(.*\/bikes\/\d+\/(deal|prices)\)/] })

let demo: Demo
test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

/** Words of the shop's side, and what was asked. */
const shopsSide = /walk[- ]?away|margin|\btarget|profit|sale price|asked|1,?380/i

test('the dealer’s day on a phone: from the last check of a viewing to what is worth doing', async ({
  page,
}) => {
  const viewing = await demo.tell({
    ...{ make: 'Mirefield', model: '600 single', registration: 'KITE 61', asking: '1380', sale: null },
    happenings: [
      {
        ...{ daysAgo: 0.1, who: 'dealer', did: 'check', short: true },
        rounds: ['cold', 'stand', 'running'],
        except: ['tank-inside'],
        found: [
          { check: 'intake-boots', value: 'cracked' },
          { check: 'tank-paint', value: 'poor' },
        ],
      },
    ],
  })
  const at = `${demo.url}/bikes/${viewing}`
  const pin = await chooseName(page, { url: demo.url, name: names.dealer })
  await tapPin(page, pin)
  await expect(page.getByRole('heading', { level: 1, name: 'Board' })).toBeVisible()

  await test.step('does the last check of the short round, and is led to the deal', async () => {
    await page.goto(`${at}/checks/short`)
    await awake(page)
    await expect(page.locator('main header')).toContainText(/1 of \d+ checks to do/)
    await expect(page.getByRole('heading', { level: 2, name: 'Tank inside' })).toBeVisible()
    await answer(page, 'Clean')
    const done = page.getByRole('region', { name: 'Short round done' })
    await expect(page.getByText('All sent.')).toBeVisible()
    await done.getByRole('link', { name: 'Look at the deal' }).click()
    await expect(page.getByText('What should it sell for?')).toBeVisible()
    await expectAccessible(page)
  })

  await test.step('notes what three others went for, and three prices stand there', async () => {
    await page.getByRole('link', { name: 'Note prices of similar bikes' }).click()
    await awake(page)
    const form = page.getByRole('form', { name: 'Note a price', exact: true })
    const head = page.getByRole('main').locator('header')
    for (const [count, price] of ['2,795', '2,650', '2,720'].entries()) {
      await fillNote(page, { of: form, asked: count === 0 ? 'Asked' : 'Sold', market: 'Dealer', price })
      await form.getByRole('button', { name: 'Note this price' }).click()
      await expect(head).toContainText(`by ${count + 1} noted price`)
    }
    await toDeal(page)
    const { open, aim, walkAway } = await threePrices(page)
    expect(open).toBeGreaterThan(0)
    expect(open).toBeLessThanOrEqual(aim)
    expect(aim).toBeLessThanOrEqual(walkAway)
    await expect(page.getByText(/^Likely sale price/)).toContainText('by 3 noted prices')
    await expectAccessible(page)
    expect(await tooWide(page)).toBeLessThanOrEqual(0)
  })

  await test.step('is told which check next, does it, and the price moves the way it was told', async () => {
    const { walkAway: before } = await threePrices(page)
    const next = sheet(page, 'Which check next')
    await expect(next).toContainText('First, for safety:')
    const first = next.getByRole('listitem').first()
    const [clean, found] = [await told(first, /if clean/), await told(first, /if found/)]
    expect(clean).toBeGreaterThan(before)
    expect(found).toBeLessThan(before)
    const title = (await first.getByRole('heading').textContent())!
    await first.getByRole('link').click()
    await expect(page.getByRole('heading', { level: 2, name: title })).toBeVisible()
    await awake(page)
    await page.getByRole('group', { name: 'What is it like?' }).getByRole('button').first().click()
    await expect(page.getByText('All sent.')).toBeVisible()
    await toDeal(page)
    const { walkAway: after } = await threePrices(page)
    expect(after).toBeGreaterThan(before)
    await expect(next.getByRole('heading', { name: title, exact: true })).toHaveCount(0)
  })

  await test.step('tries out another price and another sale, and nothing of it is stored', async () => {
    await awake(page)
    const { walkAway } = await threePrices(page)
    const desk = page.getByRole('region', { name: 'What if' })
    const of = (label: RegExp) => told(desk, label)
    expect(await of(/^Walk away above/)).toBe(walkAway)
    const margin = await of(/^Expected margin/)
    await desk.getByRole('textbox', { name: /^Price/ }).fill('900')
    await expect.poll(() => of(/^Expected margin/)).toBeGreaterThan(margin)
    await desk.getByRole('textbox', { name: /^Sale, low/ }).fill('two thousand')
    await expect(desk).toContainText('An amount, like 1450.')
    await desk.getByRole('textbox', { name: /^Sale, low/ }).fill('1500')
    await expect.poll(() => of(/^Walk away above/)).toBeLessThan(walkAway)
    await expectAccessible(page)
    await page.reload()
    expect((await threePrices(page)).walkAway).toBe(walkAway)
  })

  await test.step('notes what the trade would pay, and sees every way out side by side', async () => {
    await awake(page)
    const ways = sheet(page, 'Ways out')
    await expect(ways.getByRole('row', { name: /On to the trade/ })).toContainText('nobody noted')
    await ways.getByText('What it would bring without being put right').click()
    const form = page.getByRole('form', { name: 'Other ways out' })
    const trade = form.getByRole('group', { name: 'On to the trade as it stands' })
    for (const [point, amount] of [
      ['low', '900'],
      ['likely', '1,050'],
      ['high', '1150'],
    ] as const)
      await trade.getByRole('textbox', { name: point }).fill(amount)
    await form.getByRole('button', { name: 'Note it' }).click()
    await expect(form.getByRole('status')).toContainText('Noted.')
    await expect(ways.getByRole('row', { name: /On to the trade/ })).toContainText(/£\d/)
    await expect(ways.getByRole('row', { name: /Pass it up/ })).toContainText('£0')
    await expectAccessible(page)
  })

  await test.step('takes in the optional work that pays with one tap', async () => {
    const optional = sheet(page, 'Optional work')
    await optional.getByRole('button', { name: /^Take in 1 job that pays$/ }).click()
    await expect(optional.getByRole('listitem').filter({ hasText: 'Taken in' })).toHaveCount(1)
    await expect(optional.getByRole('button', { name: /^Take in/ })).toHaveCount(0)
  })
})

test('the sheet in the seller’s hand holds nothing of the shop’s side, printed or shown, and what he says is kept', async ({
  page,
}) => {
  const viewing = await demo.tell({
    ...{ make: 'Mirefield', model: '600 single', registration: 'KITE 62', asking: '1380' },
    happenings: [
      {
        ...{ daysAgo: 0.1, who: 'dealer', did: 'record' },
        taken: [
          { check: 'intake-boots', value: 'cracked' },
          { check: 'tank-paint', value: 'poor' },
        ],
      },
    ],
  })
  const at = `${demo.url}/bikes/${viewing}`
  const pin = await chooseName(page, { url: demo.url, name: names.dealer })
  await tapPin(page, pin)
  await expect(page.getByRole('heading', { level: 1, name: 'Board' })).toBeVisible()
  await page.goto(`${at}/deal`)
  await awake(page)
  const { aim, walkAway } = await threePrices(page)

  await test.step('writes the offer down with keys alone', async () => {
    const form = page.getByRole('form', { name: 'Offer', exact: true })
    await form.getByRole('textbox', { name: 'Price offered' }).focus()
    await page.keyboard.type(String(aim))
    await page.keyboard.press('Enter')
    await page.getByRole('link', { name: 'The seller’s sheet' }).focus()
    await page.keyboard.press('Enter')
    await expect(page.getByRole('heading', { name: /^Offer for Mirefield 600 single/ })).toBeVisible()
    await expectAccessible(page)
  })

  await test.step('one tap, and the phone may be held out', async () => {
    await toDeal(page)
    await awake(page)
    await page.getByRole('button', { name: 'Seller’s side' }).click()
    await expect(page).toHaveURL(`${at}/offer`)
    await expect(page.locator('body')).not.toContainText(shopsSide, { useInnerText: true })
    const pages = page.getByRole('navigation', { name: 'This bike' })
    await expect(pages.getByRole('link', { name: 'Offer' })).toHaveAttribute('aria-current', 'page')
    await expectAccessible(page)
    expect(await tooWide(page)).toBeLessThanOrEqual(0)
  })

  await test.step('the printed sheet holds what was found and what is offered, and nothing of the shop’s side', async () => {
    await page.emulateMedia({ media: 'print' })
    const printed = await page.locator('body').innerText()
    const pounds = (whole: number) => `£${whole.toLocaleString('en-GB')}`
    for (const there of [
      pounds(aim),
      'Intake boots cracked',
      'Tank paint poor',
      'Not checked',
      'Valid until',
    ])
      expect(printed).toContain(there)
    expect(printed).not.toMatch(shopsSide)
    expect(printed).not.toContain(pounds(walkAway))
    // What a bike may be worth, and what may hide in it, is nobody's but the shop's.
    expect(printed).not.toMatch(/chance|likely|suspect|hidden/i)
    await page.emulateMedia({ media: null })
    const paper = (await page.pdf({ format: 'A4' })).toString('latin1')
    expect(paper.match(/\/Type\s*\/Page\b/g)?.length).toBeLessThanOrEqual(2)
  })

  await test.step('the seller names his figure, and the shop answers with another offer', async () => {
    const form = page.getByRole('form', { name: 'Counter-offer' })
    await form.getByRole('textbox', { name: 'Figure named' }).fill(String(aim + 60))
    await form.getByRole('button', { name: 'Write it down' }).click()
    await expect(page.getByText(/^The seller said/)).toBeVisible()
    await page.getByRole('link', { name: 'PIN to go on' }).click()
    await awake(page)
    await tapPin(page, pin)
    await expect(page).toHaveURL(at)
    await page.goto(`${at}/offer`)
    await awake(page)
    await form.getByRole('radio', { name: /^The shop/ }).check()
    await form.getByRole('textbox', { name: 'Figure named' }).fill(String(aim + 30))
    await form.getByRole('button', { name: 'Write it down' }).click()
    await expect(page.getByRole('heading', { name: 'All offers' })).toBeVisible()
    await expect(page.locator('main header').first()).toContainText((aim + 30).toLocaleString('en-GB'))
    await expect(page.getByText(/^The seller said/)).toBeVisible()
  })
})

/** One sheet of the page, by its heading. */
function sheet(page: Page, title: string): Locator {
  return page
    .locator('section')
    .filter({ has: page.getByRole('heading', { level: 2, name: title, exact: true }) })
}

async function toDeal(page: Page): Promise<void> {
  await page
    .getByRole('navigation', { name: 'This bike' })
    .getByRole('link', { name: 'Deal' })
    .first()
    .click()
  await expect(page.getByRole('region', { name: 'Three prices' })).toBeVisible()
}

/** The three figures as they stand there, in whole pounds. */
async function threePrices(page: Page): Promise<{ open: number; aim: number; walkAway: number }> {
  const three = page.getByRole('region', { name: 'Three prices' })
  return {
    open: await told(three, /^Open at/),
    aim: await told(three, /^Aim for/),
    walkAway: await told(three, /^Walk away above/),
  }
}

/** The figure beside a term, in whole pounds. */
async function told(where: Locator, term: RegExp): Promise<number> {
  const text = await where
    .getByRole('term')
    .filter({ hasText: term })
    .first()
    .locator('xpath=following-sibling::dd')
    .textContent()
  return Number((/£[\d,]+|−£[\d,]+/.exec(text ?? '')?.[0] ?? '').replace('−', '-').replace(/[^\d.-]/g, ''))
}

function tooWide(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)
}
