import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { expect, test } from './support/watched'

let demo: Demo

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

test('a what-if is kept only when asked, opened again beside another, and taken away', async ({
  page,
  context,
}) => {
  await comeIn(context, demo.people.dealer, demo.url)
  const viewing = await demo.takeIn({ make: 'Lindale', model: '400', plate: 'LARK 33' })
  await page.goto(`${demo.url}/bikes/${viewing}/deal`)
  await awake(page)
  const keep = page.getByRole('form', { name: 'Keep: What if' })
  const kept = page.getByRole('region', { name: 'Kept' })
  const figureOf = (column: string, label: string) =>
    page
      .getByRole('region', { name: column, exact: true })
      .getByRole('term')
      .filter({ hasText: new RegExp(`^${label}$`) })
      .locator('xpath=following-sibling::dd')

  await test.step('offers to keep nothing while nothing is changed, and stores nothing by itself', async () => {
    await expect(page.getByRole('textbox', { name: 'Price', exact: false }).first()).toBeVisible()
    await expect(keep).toHaveCount(0)
    await page.getByRole('textbox', { name: /^Price GBP/ }).fill('800')
    await expect(keep).toBeVisible()
    await page.reload()
    await awake(page)
    await expect(page.getByRole('textbox', { name: /^Price GBP/ })).toHaveValue('1250')
    await expect(kept).toHaveCount(0)
  })

  const cheaper = await test.step('keeps a cheaper one', async () => {
    await page.getByRole('textbox', { name: /^Price GBP/ }).fill('800')
    await keep.getByRole('button', { name: 'Keep it' }).click()
    await expect(keep.getByText(/^Give it a name/)).toBeVisible()
    await keep.getByRole('textbox', { name: 'Keep it as' }).fill('For 800')
    await keep.getByRole('button', { name: 'Keep it' }).click()
    await expect(kept.getByRole('listitem').filter({ hasText: 'For 800' })).toBeVisible()
    await expect(kept.getByText('Price £800.')).toBeVisible()
    await expectAccessible(page)
    return figureOf('What if', 'Expected margin').textContent()
  })

  await test.step('and one with dearer hours', async () => {
    await page.getByRole('button', { name: 'Back to how it is' }).click()
    await page.getByRole('textbox', { name: /^Labour cost/ }).fill('70')
    await keep.getByRole('textbox', { name: 'Keep it as' }).fill('Dear hours')
    await keep.getByRole('button', { name: 'Keep it' }).click()
    await expect(kept.getByText('Labour cost £70 an hour.')).toBeVisible()
  })

  await test.step('opens both side by side after a reload', async () => {
    await page.reload()
    await awake(page)
    await kept.getByRole('button', { name: 'Open (For 800)' }).click()
    await kept.getByRole('button', { name: 'Open beside (Dear hours)' }).click()
    await expect(figureOf('For 800', 'Expected margin')).toHaveText(cheaper ?? '')
    await expect(figureOf('Dear hours', 'Expected margin')).not.toHaveText(cheaper ?? '')
    await expectAccessible(page)
  })

  await test.step('takes one away', async () => {
    await kept.getByRole('form', { name: 'Take For 800 away' }).getByRole('button').click()
    await expect(kept.getByRole('listitem').filter({ hasText: 'For 800' })).toHaveCount(0)
    await expect(kept.getByRole('listitem').filter({ hasText: 'Dear hours' })).toBeVisible()
  })
})
