import { expect, type Page } from '@playwright/test'
import { awake } from './awake'

/** Opens the demo on a new device and chooses a name; answers the PIN that stands beside it. */
export async function chooseName(page: Page, given: { url: string; name: string }): Promise<string> {
  const { url, name } = given
  await page.goto(url)
  await page.getByRole('button', { name: 'Use this device in the demo' }).click()
  const tile = page.getByRole('link', { name: new RegExp(`^${name}`) })
  const pin = /Demo PIN (\d{6})/.exec((await tile.textContent()) ?? '')?.[1] ?? ''
  await tile.click()
  await expect(page.getByRole('heading', { level: 1, name })).toBeVisible()
  await awake(page)
  return pin
}

/** Taps a PIN on the pad; the last digit sends it. */
export async function tapPin(page: Page, pin: string): Promise<void> {
  for (const digit of pin) await page.getByRole('button', { name: digit, exact: true }).click()
}
