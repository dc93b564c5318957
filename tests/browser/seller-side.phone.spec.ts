import type { Page } from '@playwright/test'
import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { type Demo, names, startDemo } from './support/demo'
import { chooseName, tapPin } from './support/sign-in'
import { expect, test } from './support/watched'

/** On the seller's side the pages of the shop's money are not there. */
test.use({ provoked: [/404 \(Not Found\) \(.*\/bikes\/\d+\/(deal|work)\)/] })

let demo: Demo
test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

/** Words of the shop's side, and what stands for its figures on this bike: asked, sale price low, likely and high. */
const shopsSide = /walk[- ]?away|margin|\btarget|profit|sale price|asked|2,?950|4,?000|4,?400|4,?700/i

async function expectSellersSide(page: Page): Promise<void> {
  await expect(page.getByRole('complementary', { name: "Seller's side" })).toBeVisible()
  await expect(page.locator('body')).not.toContainText(shopsSide, { useInnerText: true })
}

test('the dealer holds the phone out to the seller, who sees his sheet and nothing of the shop’s side', async ({
  page,
  context,
}) => {
  const viewing = await demo.tell({
    registration: 'KITE 44',
    asking: '2950',
    sale: ['4000', '4400', '4700'],
    happenings: [
      {
        ...{ daysAgo: 0, who: 'dealer', did: 'record' },
        taken: [
          { check: 'intake-boots', value: 'cracked' },
          { check: 'tank-inside', value: 'flakes' },
        ],
      },
    ],
  })
  const at = `${demo.url}/bikes/${viewing}`
  const pin = await chooseName(page, { url: demo.url, name: names.dealer })
  await tapPin(page, pin)
  await expect(page.getByRole('heading', { level: 1, name: 'Board' })).toBeVisible()

  const walkAway = await test.step('an offer is written down, subject to what must turn out so', async () => {
    await page.goto(`${at}/deal`)
    await awake(page)
    const three = page.getByRole('region', { name: 'Three prices' })
    const price = three.getByRole('term').filter({ hasText: 'Walk away above' })
    const figure = /£[\d,]+/.exec(
      (await price.locator('xpath=following-sibling::dd').textContent()) ?? '',
    )![0]
    await page.getByRole('textbox', { name: 'Price offered' }).fill('640')
    const subject = page.getByRole('textbox', { name: /^Subject to/ })
    await expect(subject).toHaveValue(/frame number is the same/)
    await subject.fill('The second key turns up')
    await page.getByRole('button', { name: 'Write the offer down' }).click()
    await page.getByRole('link', { name: 'The seller’s sheet' }).click()
    await expect(page.getByRole('heading', { name: /^Offer for Lindale 700/ })).toBeVisible()
    await expect(page.getByText('its price is the same to the penny')).toBeVisible()
    return figure
  })

  const other = await context.newPage()
  await test.step('another window stands on the deal', async () => {
    await other.goto(`${at}/deal`)
    await awake(other)
    await expect(other.getByText('Walk away above').first()).toBeVisible()
  })

  await test.step("one tap on the deal's page leads to the seller's side, in every window", async () => {
    await page.goto(`${at}/work`)
    await page.goto(`${at}/deal`)
    await awake(page)
    await page.getByRole('button', { name: 'Seller’s side' }).click()
    await expect(page).toHaveURL(`${at}/offer`)
    await expectSellersSide(page)
    await expect(other.getByText('Walk away above').first()).toHaveCount(0)
    await expect(page.getByText('to the penny')).toHaveCount(0)
    await expectAccessible(page)
  })

  await test.step('the sheet says what was found, what was not checked and what is offered', async () => {
    const sheet = page.getByRole('article', { name: "The seller's sheet" })
    await expect(sheet).toContainText('£640')
    await expect(sheet).toContainText('The second key turns up')
    await expect(sheet.getByRole('row', { name: /Intake boots cracked/ })).toContainText(/£\d/)
    await expect(sheet).toContainText(/Road, ridden:\s*none of its \d+ checks/)
    await page.emulateMedia({ media: 'print' })
    await expect(sheet).toBeVisible()
    await expect(page.getByRole('form', { name: 'Counter-offer' })).toBeHidden()
    await expect(page.getByRole('complementary')).toBeHidden()
    const printed = await page.locator('body').innerText()
    expect(printed).toContain('£640')
    expect(printed).toContain('Not checked')
    expect(printed).not.toMatch(shopsSide)
    expect(printed).not.toContain(walkAway)
    await page.emulateMedia({ media: null })
  })

  await test.step('neither the back button nor a reload nor an address shows the shop’s side', async () => {
    for (let back = 0; back < 3; back++) {
      await page.goBack()
      await page.waitForLoadState()
      await expect(page.getByText('Walk away above').first()).toHaveCount(0)
      await expect(page.locator('body')).not.toContainText(shopsSide, { useInnerText: true })
    }
    await page.goto(`${at}/offer`)
    await page.reload()
    await expectSellersSide(page)
    await page.goto(at)
    await expectSellersSide(page)
    await expect(page.getByRole('link', { name: 'Board' })).toHaveCount(0)
  })

  await test.step('what the seller says is noted, and his side has no field for the shop’s figure', async () => {
    await page.getByRole('link', { name: 'The offer' }).click()
    const form = page.getByRole('form', { name: 'Counter-offer' })
    await expect(form.getByRole('radio')).toHaveCount(0)
    await form.getByRole('textbox', { name: 'Figure named' }).fill('780')
    await form.getByRole('button', { name: 'Write it down' }).click()
    await expect(page.getByText('It is written down.')).toBeVisible()
    await expect(page.getByText('The seller said £780')).toBeVisible()
  })

  await test.step('a wrong PIN stays there, the right one by keyboard leads back', async () => {
    await page.getByRole('link', { name: 'PIN to go on' }).click()
    await expect(page.getByRole('heading', { level: 1, name: `${names.dealer}, go on` })).toBeVisible()
    await awake(page)
    await expectAccessible(page, { bench: true })
    await page.keyboard.type('112233')
    await expect(page.getByText('That PIN is not right. Try again.').first()).toBeVisible()
    await page.keyboard.type(pin)
    await expect(page).toHaveURL(at)
    await expect(page.getByRole('complementary', { name: "Seller's side" })).toHaveCount(0)
    await expect(page.getByRole('main')).toContainText('Walk away above')
  })

  await test.step('the shop’s own answer is a new offer, and the first keeps its sheet', async () => {
    await page.goto(`${at}/offer`)
    await awake(page)
    const form = page.getByRole('form', { name: 'Counter-offer' })
    await form.getByRole('radio', { name: /^The shop/ }).check()
    await form.getByRole('textbox', { name: 'Figure named' }).fill('700')
    await form.getByRole('button', { name: 'Write it down' }).click()
    await expect(page.locator('main header').first()).toContainText('£700')
    await expect(page.getByText('The seller said £780')).toBeVisible()
    await page.getByRole('link', { name: 'Its sheet' }).click()
    const sheet = page.getByRole('article', { name: "The seller's sheet" })
    await expect(sheet).toContainText('£640')
    await expectAccessible(page)
  })
})
