import AxeBuilder from '@axe-core/playwright'
import { type RunningShop, startShop } from './support/server'
import { expect, test } from './support/watched'

let shop: RunningShop

test.beforeAll(async () => {
  shop = await startShop()
})
test.afterAll(() => shop?.close())

test.describe('an address that leads nowhere', () => {
  test.use({ provoked: [/status of 404/] })

  test('says so plainly, to everyone, and leads back to the start', async ({ page }) => {
    const answer = await page.goto(`${shop.url}/no/such/page`)
    expect(answer?.status()).toBe(404)
    await expect(page.getByRole('heading', { name: 'There is no such page here' })).toBeVisible()
    await expect(page).toHaveTitle(/^Not here/)
    const { violations } = await new AxeBuilder({ page }).analyze()
    expect(violations).toEqual([])
    await page.getByRole('link', { name: 'Back to the start' }).click()
    await expect(page).not.toHaveURL(/no\/such/)
  })
})

test.describe('a script that is not ours', () => {
  test.use({ provoked: [/inline event handler/i] })

  test('does not run', async ({ page }) => {
    await page.goto(shop.url)
    const forbidden = await page.evaluate(() => {
      const said = new Promise<string>((done) =>
        document.addEventListener('securitypolicyviolation', (event) => done(event.effectiveDirective), {
          once: true,
        }),
      )
      const written = document.createElement('div')
      written.innerHTML = '<img src="data:," alt="" onerror="window.intruder = true">'
      document.body.append(written)
      return said
    })
    expect(forbidden).toBe('script-src-attr')
    expect(await page.evaluate(() => 'intruder' in window)).toBe(false)
  })
})
