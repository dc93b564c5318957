import { expect, type Page } from '@playwright/test'

/** Nothing on the page, nor in what it was drawn from, says what a bike costs or brings. */
export async function expectNoMoney(page: Page): Promise<void> {
  const text = await page.locator('body').textContent()
  expect(text).not.toMatch(/£|\bGBP\b|\b(asking|margin|price[sd]?|paid|profit|walk[- ]?away)\b/i)
}
