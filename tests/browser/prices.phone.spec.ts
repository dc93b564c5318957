import type { Page } from '@playwright/test'
import { expectAccessible } from './support/accessible'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { fillNote } from './support/prices'
import { smallTargets } from './support/targets'
import { expect, test } from './support/watched'

let demo: Demo

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

/** 2.75 rem: what a thumb hits. */
const thumb = 44

test('at a viewing the dealer notes what others ask and got, and has a price to bargain with', async ({
  page,
  context,
}) => {
  const viewing = await demo.tell({
    ...{ make: 'Vantry', model: '250 trail', registration: 'KITE 88', sale: null, happenings: [] },
  })
  const at = `${demo.url}/bikes/${viewing}`
  await comeIn(context, demo.people.dealer, demo.url)
  const form = page.getByRole('form', { name: 'Note a price', exact: true })
  const head = page.getByRole('main').locator('header')

  await test.step('comes from a deal that has no price yet', async () => {
    await page.goto(`${at}/deal`)
    await expect(page.getByText('What should it sell for?')).toBeVisible()
    await page.getByRole('link', { name: 'Note prices of similar bikes' }).click()
    await expect(page.getByText('No price is noted yet')).toBeVisible()
    await expectAccessible(page)
    expect(await smallTargets(page, thumb)).toEqual([])
  })

  await test.step('is told what lacks, and types nothing twice', async () => {
    await fillNote(page, { of: form, asked: 'Asked', market: 'Dealer', price: 'about two' })
    await form.getByRole('textbox', { name: 'Distance' }).fill('14,500')
    await form.getByRole('button', { name: 'Note this price' }).click()
    const price = form.getByRole('textbox', { name: 'Price' })
    await expect(price).toHaveAccessibleDescription(/Give an amount in figures/)
    await expect(price).toHaveValue('about two')
    await expect(form.getByRole('textbox', { name: 'Distance' })).toHaveValue('14,500')
    await price.fill('1,995')
    await form.getByRole('button', { name: 'Note this price' }).click()
    await expect(form.getByRole('status')).toContainText('Written down')
  })

  await test.step('one price gives a wide answer that says why; the next makes it narrower', async () => {
    await expect(page.getByText(/^There is one note alone|^Together the notes count/)).toBeVisible()
    await expect(head).toContainText('by 1 noted price')
    const before = await spreadTold(page)
    await fillNote(page, { of: form, asked: 'Sold', market: 'Dealer', price: '1850' })
    await form.getByRole('button', { name: 'Note this price' }).click()
    await expect(head).toContainText('by 2 noted prices')
    const after = await spreadTold(page)
    expect(after.high - after.low).toBeLessThan(before.high - before.low)
    const tooWide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)
    expect(tooWide).toBeLessThanOrEqual(0)
    await expectAccessible(page)
  })

  await test.step('every note says what it counts and why, and can be taken back', async () => {
    const note = page.getByRole('listitem').filter({ hasText: '£1,850, Dealer, sold' })
    await expect(note).toContainText('This bike by it')
    await expect(note).toContainText('distance not known')
    await note.getByText('Correct it or take it back').click()
    await note.getByRole('textbox', { name: 'What was wrong with it' }).fill('It was a 125')
    await note.getByRole('button', { name: 'Take it back' }).click()
    await expect(head).toContainText('by 1 noted price')
    await expect(note).toHaveCount(0)
  })

  await test.step('many come in from a table, first tried and then taken', async () => {
    await page.getByText('Take prices in from a table').click()
    const table = page.getByRole('form', { name: 'Noted prices out of a table' })
    await table.getByRole('textbox', { name: 'Or pasted here' }).fill(lines)
    await table.getByRole('button', { name: 'Try it: nothing changes yet' }).click()
    await expect(table.getByText('Nothing is changed yet.')).toBeVisible()
    await expect(head).toContainText('by 1 noted price')
    await table.getByRole('button', { name: 'Take 2 lines in' }).click()
    await expect(table.getByText('Taken in.')).toBeVisible()
    await expect(head).toContainText('by 3 noted prices')
  })

  await test.step('the deal reckons with them, and says so', async () => {
    await page.goto(`${at}/deal`)
    await expect(page.getByText(/^Likely sale price/)).toContainText('by 3 noted prices')
    await expect(page.getByText('Walk away above').first()).toBeVisible()
    await page.getByRole('link', { name: 'See 3 noted prices' }).click()
    await expect(page.getByRole('heading', { name: 'What the noted prices come to' })).toBeVisible()
  })
})

const day = new Date().toISOString().slice(0, 10)
const lines = [
  'id,make,model,for viewing,year,distance,unit,condition,market,asked or sold,price,first seen,last seen,link,note',
  `,,,,1999,21000,mi,tidy,trade,sold,1900,,${day},,`,
  `,,,,1998,19000,mi,worn,private,asked,1780,,${day},,`,
].join('\n')

/** The two ends of eight in ten, as the picture tells them to who hears it. */
async function spreadTold(page: Page): Promise<{ low: number; high: number }> {
  const told = await page.locator('figure figcaption').first().textContent()
  const [, low = '', high = ''] = /between £([\d,]+) and £([\d,]+)/.exec(told ?? '') ?? []
  return { low: Number(low.replace(',', '')), high: Number(high.replace(',', '')) }
}
