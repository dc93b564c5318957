import { expect, type Page } from '@playwright/test'

/** Opens a form of the identity page, fills it in and sends it; what it says then is the caller's to look at. */
export async function sendNote(
  page: Page,
  name: string,
  typed: Readonly<Record<string, string>>,
  answer: string | RegExp,
): Promise<void> {
  const form = page.getByRole('form', { name, exact: true })
  const fold = page.locator('details').filter({ has: page.locator(`form[aria-label="${name}"]`) })
  if (!(await form.isVisible())) await fold.locator('summary').first().click()
  for (const [label, value] of Object.entries(typed))
    await form.getByRole('textbox', { name: label }).fill(value)
  await form.getByRole('radio', { name: answer }).check()
  await form.getByRole('button', { name: 'Write it down' }).click()
}

/** The same, taken at once. */
export async function noteDown(...asked: Parameters<typeof sendNote>): Promise<void> {
  await sendNote(...asked)
  await expect(asked[0].getByText('It is written down.').first()).toBeVisible()
}
