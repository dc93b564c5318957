import { expect, type Locator, type Page } from '@playwright/test'

/** The check that is open, with what it came to. */
export function openedCheck(page: Page): Locator {
  return page.getByRole('article')
}

export async function openRound(page: Page, name: string): Promise<void> {
  const step = page.getByRole('navigation', { name: 'Rounds' }).getByRole('button', { name })
  await step.click()
  await expect(step).toHaveAttribute('aria-current', 'step')
}

/** Opens a check from the list of its round, which is the round that is open. */
export async function openCheck(page: Page, title: string): Promise<void> {
  const all = page.getByRole('region', { name: /^All checks of the/ })
  await all.getByRole('button', { name: new RegExp(`^${title}`) }).click()
  await expect(page.getByRole('heading', { level: 2, name: title })).toBeFocused()
}

/** Taps a number on the big keys. */
export async function tapNumber(page: Page, number: string): Promise<void> {
  const keys = page.getByRole('group', { name: 'Keys' })
  for (const sign of number) {
    const name = sign === '.' ? 'Decimal point' : sign
    await keys.getByRole('button', { name, exact: true }).click()
  }
}

export async function record(page: Page, number: string): Promise<void> {
  await tapNumber(page, number)
  await page.getByRole('button', { name: 'Record', exact: true }).click()
}

export async function answer(page: Page, words: string): Promise<void> {
  await page.getByRole('group', { name: 'What is it like?' }).getByRole('button', { name: words }).click()
}

/** A box to tick or a choice lies under its label, which is what a finger hits. */
export async function tapChoice(page: Page, words: string): Promise<void> {
  await page.locator('label').filter({ hasText: words }).click()
}
