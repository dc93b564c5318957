import { join } from 'node:path'
import type { Page } from '@playwright/test'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { root } from './support/server'
import { expect, test } from './support/watched'
import { workedOut } from './support/worked-out'

/* Not among the days: playwright.config.ts lets it run only with STAND_LEDGER_PICTURES=1. */

let demo: Demo

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

const sizes = {
  desktop: { width: 1280, height: 800 },
  tablet: { width: 820, height: 1180 },
  phone: { width: 390, height: 844 },
} as const

const pictures = [
  { name: 'board-desktop', size: 'desktop', who: 'manager', path: '/board' },
  { name: 'queue-desktop', size: 'desktop', who: 'manager', path: '/queue' },
  { name: 'plan-desktop', size: 'desktop', who: 'manager', path: '/bench' },
  { name: 'work-desktop', size: 'desktop', who: 'manager', path: '/bikes/5/work' },
  {
    name: 'checks-tablet',
    size: 'tablet',
    who: 'technician',
    path: '/bikes/4/checks?check=disc-front-right',
  },
  { name: 'deal-phone', size: 'phone', who: 'dealer', path: '/bikes/5/deal' },
] as const

for (const { name, size, who, path } of pictures) {
  test(`the picture ${name} is taken`, async ({ context, page }) => {
    await comeIn(context, demo.people[who], demo.url)
    await page.setViewportSize(sizes[size])
    await page.goto(demo.url + path)
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
    await workedOut(page)
    if (name === 'checks-tablet') await showKeysBesideScale(page)
    await page.screenshot({ path: join(root, 'tests/browser/pictures', `${name}.png`) })
  })
}

/** The number pad of a check that is done already, with the limit drawn beside it. */
async function showKeysBesideScale(page: Page): Promise<void> {
  await awake(page)
  await page.getByRole('button', { name: 'Measure again' }).click()
  await page.getByRole('article').evaluate((check) => check.scrollIntoView({ block: 'start' }))
}
