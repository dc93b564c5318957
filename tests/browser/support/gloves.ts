import { expect, type Page } from '@playwright/test'
import { expectAccessible } from './accessible'
import { expectNoMoney } from './no-money'
import { smallTargets } from './targets'

/** 3.5 rem: what a thumb in a glove hits. */
export const glove = 56

/** A page of the technician: no money, nothing small, nothing hard to read. */
export async function forGloves(page: Page): Promise<void> {
  await expectNoMoney(page)
  await expectAccessible(page, { bench: true })
  expect(await smallTargets(page, glove)).toEqual([])
}
