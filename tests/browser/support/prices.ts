import { expect, type Locator, type Page } from '@playwright/test'

/** Fills in the form for a noted price, by taps where a finger taps. */
export async function fillNote(
  page: Page,
  { of, asked, market, price }: { of: Locator; asked: string; market: string; price: string },
): Promise<void> {
  await of.locator('label').filter({ hasText: asked }).first().click()
  await of.locator('label').filter({ hasText: market }).click()
  await of.getByRole('textbox', { name: 'Price' }).fill(price)
  await expect(page.getByRole('radio', { name: asked }).first()).toBeChecked()
}
