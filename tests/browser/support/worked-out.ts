import { expect, type Page } from '@playwright/test'

/** Resolves once the page shows no figure of before any more: it brings the new ones by itself. */
export async function workedOut(page: Page): Promise<void> {
  // All bikes of the demo one after the other, on a machine that is busy with the test itself.
  await expect(page.getByText(/being worked out/i)).toHaveCount(0, { timeout: 90_000 })
}
