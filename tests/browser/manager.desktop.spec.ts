import { expectAccessible } from './support/accessible'
import { type Demo, startDemo } from './support/demo'
import { chooseName, tapPin } from './support/sign-in'
import { expect, test } from './support/watched'

let demo: Demo

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

test('the manager sees what a bench hour brings, and sets what one costs', async ({ page }) => {
  const shop = page.getByRole('navigation', { name: 'Shop' })

  await test.step('signs in and is led to the queue', async () => {
    await tapPin(page, await chooseName(page, { url: demo.url, name: 'Maren' }))
    await expect(page.getByRole('heading', { level: 1, name: 'Queue' })).toBeVisible()
    await expectAccessible(page)
  })

  const first = page.getByRole('list', { name: 'Bikes to put right' }).getByRole('article').first()
  const before = await first.textContent()

  await test.step('sets another labour cost', async () => {
    await shop.getByRole('link', { name: 'Settings' }).click()
    await expect(page.getByRole('heading', { level: 1, name: 'Figures of the shop' })).toBeVisible()
    await expectAccessible(page)
    const form = page.getByRole('form', { name: 'Labour and tax' })
    await form.getByRole('textbox', { name: 'Labour cost' }).fill('104')
    await form.getByRole('button').last().click()
    await expect(page.getByText(/^Number 2, saved/)).toBeVisible()
  })

  await test.step('finds the queue worked out again', async () => {
    await shop.getByRole('link', { name: 'Queue' }).click()
    await expect(page.getByRole('heading', { level: 1, name: 'Queue' })).toBeVisible()
    await expect(first).not.toHaveText(before ?? '')
  })

  await test.step('opens the first bike to its work', async () => {
    await first.getByRole('link').first().click()
    await expect(page.getByRole('heading', { level: 2, name: 'What is wrong' })).toBeVisible()
    await expectAccessible(page)
  })
})
