import type { Page } from '@playwright/test'
import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { expectNoMoney } from './support/no-money'
import type { SignedIn } from './support/people'
import { expect, test } from './support/watched'

/* The manager's week at the bench plan, and the day of whoever works by it. */

let demo: Demo
test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

async function open(page: Page, who: SignedIn, path: string): Promise<void> {
  await comeIn(page.context(), who, demo.url)
  await page.goto(demo.url + path)
  await awake(page)
}

/** The plan is worked out beside the pages, and its page brings the new one by itself. */
async function planned(page: Page): Promise<void> {
  await expect(page.getByText('Being worked out again.')).toHaveCount(0, { timeout: 60_000 })
}

const bikeOf = (page: Page, name: RegExp) =>
  page.getByRole('article').filter({ has: page.getByRole('heading', { name }) })

test('the manager sees who does what, promises a bike, settles a task, and lets it move again', async ({
  page,
}) => {
  await test.step('sees people and lifts against days, each bike with its date and why then', async () => {
    await open(page, demo.people.manager, '/bench')
    await planned(page)
    await expect(page.getByRole('heading', { level: 1, name: 'Bench plan' })).toBeVisible()
    await expect(page.getByRole('region', { name: /people and lifts against days/ })).toBeVisible()
    await expect(page.getByRole('region', { name: /people and lifts against days/ })).toContainText('7')
    await expect(bikeOf(page, /Ostrel 750/).getByText(/sure$/)).toBeVisible()
    await expectAccessible(page)
  })

  const vantry = bikeOf(page, /Vantry 650/)

  await test.step('promises the Vantry, and finds a day that cannot be at its field', async () => {
    await vantry.getByText(/^Its .* tasks?$/).click()
    const form = vantry.getByRole('form', { name: 'Promise a day' })
    const day = form.getByLabel(/Promised to be ready by/)
    await day.fill('2099-12-04')
    await form.getByRole('textbox', { name: /To whom/ }).fill('The first caller')
    await form.getByRole('button', { name: 'Save the promise' }).click()
    await expect(vantry.getByText(/Promised for 4 Dec 2099/)).toBeVisible()
    await planned(page)
  })

  await test.step('settles its first task for a Monday, and sees what that costs', async () => {
    const form = vantry.getByRole('form', { name: 'Settle a task' })
    await form.getByLabel(/Begins on/).fill(mondayAfter(14))
    await form.getByRole('textbox', { name: 'At' }).fill('after lunch')
    await form.getByRole('button', { name: 'Settle this' }).click()
    await expect(form.getByText('Give a time, like 09:00.').first()).toBeVisible()
    await form.getByRole('textbox', { name: 'At' }).fill('10:00')
    await form.getByRole('button', { name: 'Settle this' }).click()
    await expect(page.getByRole('heading', { name: 'Settled by hand' })).toBeVisible()
    await planned(page)
    await expect(page.getByText('What is settled by hand costs')).toBeVisible()
    await expect(vantry.getByText('settled by hand').first()).toBeVisible()
  })

  await test.step('moves it by a day, and then lets it move by itself', async () => {
    await page.getByRole('button', { name: 'A day later' }).click()
    await planned(page)
    await page.getByRole('button', { name: 'A day earlier' }).click()
    await planned(page)
    await page.getByRole('button', { name: 'Let it move' }).click()
    await expect(page.getByRole('heading', { name: 'Settled by hand' })).toHaveCount(0)
    await planned(page)
  })

  await test.step('prints the list of who does what', async () => {
    await page.emulateMedia({ media: 'print' })
    await expect(page.getByRole('table', { name: 'Wyn' })).toBeVisible()
    await page.emulateMedia({ media: 'screen' })
  })
})

test('the manager gives the technician a day off, and the plan keeps it free', async ({ page }) => {
  const off = mondayAfter(0)
  await open(page, demo.people.manager, '/settings/bench')
  await expectAccessible(page)
  const form = page.getByRole('form', { name: 'Note a time off' })
  await form.getByRole('textbox', { name: 'What it is' }).fill('Course on coolant')
  await form.getByLabel(/For whom/).selectOption({ label: 'Wyn' })
  await form.getByLabel(/First day/).fill(off)
  await form.getByRole('button', { name: 'Note this' }).click()
  await expect(page.getByText('Wyn: Course on coolant')).toBeVisible()

  const wyn = page.getByRole('form', { name: 'Wyn at the bench' })
  await page.getByText(/^Wyn/).first().click()
  await wyn.getByRole('textbox', { name: /Times as long/ }).fill('1.1')
  await wyn.getByRole('button', { name: 'Save' }).click()
  await expect(page.getByText(/1\.1 times as long/)).toBeVisible()

  await page.getByRole('link', { name: 'See the bench plan' }).click()
  await expect(page.getByRole('heading', { level: 1, name: 'Bench plan' })).toBeVisible()
  await planned(page)
  await page.emulateMedia({ media: 'print' })
  await expect(page.getByRole('table', { name: 'Wyn' })).toBeVisible()
  const days = await page.getByRole('table', { name: 'Wyn' }).getByRole('row').allTextContents()
  expect(days.length).toBeGreaterThan(3)
  expect(days.join('\n')).not.toContain(formatted(off))
})

test('the technician works by the plan of today, without money', async ({ page }) => {
  await page.setViewportSize({ width: 820, height: 1180 })
  await open(page, demo.people.technician, '/bench/today')
  await expect(page.getByRole('heading', { level: 1, name: 'Today at the bench' })).toBeVisible()
  await expectAccessible(page, { bench: true })
  await expectNoMoney(page)
})

/** The first Monday that is at least so many days away, YYYY-MM-DD. */
function mondayAfter(days: number): string {
  const day = new Date(Date.now() + Math.max(1, days) * 86_400_000)
  while (day.getUTCDay() !== 1) day.setUTCDate(day.getUTCDate() + 1)
  return day.toISOString().slice(0, 10)
}

/** As the list for print names a day of this week: Monday. */
function formatted(day: string): string {
  return new Intl.DateTimeFormat('en-GB', { weekday: 'long', timeZone: 'UTC' }).format(new Date(day))
}
