import type { Locator, Page } from '@playwright/test'
import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { answer, openCheck, openedCheck, openRound, tapChoice } from './support/sheet'
import { chooseName, tapPin } from './support/sign-in'
import { expect, test, watch } from './support/watched'
import { workedOut } from './support/worked-out'

let demo: Demo

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

test('the manager sees what a bench hour brings, and sets what one costs', async ({ page }) => {
  const shop = page.getByRole('navigation', { name: 'Shop' })

  await test.step('signs in and is led to the queue', async () => {
    await tapPin(page, await chooseName(page, { url: demo.url, name: 'Maren' }))
    await expect(page.getByRole('heading', { level: 1, name: 'Queue' })).toBeVisible()
    await expectAccessible(page)
  })

  const first = page.getByRole('list', { name: 'Bikes to put right' }).getByRole('article').first()
  await workedOut(page)
  const before = await first.textContent()

  await test.step('sets another labour cost', async () => {
    await shop.getByRole('link', { name: 'Settings' }).click()
    await expect(page.getByRole('heading', { level: 1, name: 'Figures of the shop' })).toBeVisible()
    await expectAccessible(page)
    const form = page.getByRole('form', { name: 'Labour and tax' })
    await form.getByRole('textbox', { name: 'Labour cost' }).fill('104')
    await form.getByRole('button').last().click()
    await expect(page.getByText(/^Number 2, saved/)).toBeVisible()
  })

  await test.step('finds the queue worked out again', async () => {
    await shop.getByRole('link', { name: 'Queue' }).click()
    await expect(page.getByRole('heading', { level: 1, name: 'Queue' })).toBeVisible()
    await workedOut(page)
    await expect(first).not.toHaveText(before ?? '')
  })

  await test.step('opens the first bike to its work', async () => {
    await first.getByRole('link').first().click()
    await expect(page.getByRole('heading', { level: 2, name: 'What is wrong' })).toBeVisible()
    await expectAccessible(page)
  })
})

/** The manager at a page, signed in before. */
async function asManager(page: Page, path: string): Promise<void> {
  await comeIn(page.context(), demo.people.manager, demo.url)
  await page.goto(demo.url + path)
  await awake(page)
}

function jobOf(page: Page, title: string): Locator {
  return page.getByRole('article').filter({ has: page.getByRole('heading', { level: 3, name: title }) })
}

async function toSheetOf(page: Page, viewing: number, check: string): Promise<void> {
  await page.goto(`${demo.url}/bikes/${viewing}/checks?check=${check}`)
  await awake(page)
}

test('hours that the shop sets for a job hold on every bike', async ({ page }) => {
  await asManager(page, '/settings/jobs')
  await page.getByText('Intake boots renewed', { exact: true }).click()
  const form = page.getByRole('form', { name: 'Intake boots renewed' })
  const hours = form.getByRole('group', { name: 'Hours of its own' })
  await hours.getByRole('textbox', { name: 'low' }).fill('9')
  await hours.getByRole('textbox', { name: 'likely' }).fill('8')
  await hours.getByRole('textbox', { name: 'high' }).fill('11')
  await form.getByRole('button', { name: /^Save/ }).click()
  await expect(form.getByRole('alert')).toBeFocused()
  await expect(hours.getByRole('textbox', { name: 'low' })).toHaveValue('9')
  await hours.getByRole('textbox', { name: 'likely' }).fill('10')
  await form.getByRole('button', { name: /^Save/ }).click()
  await expect(form.getByText('Saved. It holds for every bike from now on.')).toBeVisible()

  await page.goto(`${demo.url}/bikes/5/work`)
  await awake(page)
  const job = jobOf(page, 'Intake boots renewed')
  await job.getByText('Hours and parts', { exact: true }).click()
  await expect(job).toContainText(/Hours of its own: 9.* to 11/)
})

test('a limit of the shop judges what was read before, and opens from the fault down to the reading', async ({
  page,
}) => {
  await asManager(page, '/settings/limits')
  const form = page.getByRole('form', { name: 'Enter a limit' })
  await form.getByRole('combobox', { name: 'Check' }).selectOption('Throttle free play')
  await form.getByRole('radio', { name: 'every bike' }).check()
  await form.getByRole('combobox', { name: 'Unit' }).selectOption('mm')
  await form.getByRole('button', { name: 'Enter this limit' }).click()
  await expect(form.getByRole('alert')).toBeFocused()
  await expect(form.getByRole('radio', { name: 'every bike' })).toBeChecked()
  await form.getByRole('textbox', { name: /^At most/ }).fill('3')
  await form.getByRole('radio', { name: 'Maker’s sheet' }).check()
  await form.getByRole('textbox', { name: 'Which one' }).fill('Workshop sheet 12')
  await form.getByRole('button', { name: 'Enter this limit' }).click()
  await expect(form.getByText('Entered. It holds from now on.')).toBeVisible()
  await expect(page.getByRole('listitem').filter({ hasText: 'Throttle free play' })).toContainText(
    'every bike',
  )
  await expectAccessible(page)

  await toSheetOf(page, 5, 'throttle-free-play')
  await expect(openedCheck(page).getByText('Outside', { exact: true }).first()).toBeVisible()
  await expect(openedCheck(page)).toContainText('Workshop sheet 12')

  await page.goto(`${demo.url}/bikes/5/work`)
  await awake(page)
  const fault = page.getByRole('article').filter({ hasText: 'Throttle' }).first()
  await fault.getByText('Why', { exact: true }).click()
  await expect(fault).toContainText('Workshop sheet 12')
  await fault.getByRole('link', { name: 'Throttle free play' }).click()
  await expect(page.getByRole('heading', { level: 2, name: 'Throttle free play' })).toBeVisible()
})

test('a job is added and dropped with a reason, and both can be taken back', async ({ page }) => {
  await asManager(page, '/bikes/5/work')
  await page.getByText('Add a job that is not in the list', { exact: true }).click()
  const form = page.getByRole('form', { name: 'Add a job of your own' })
  await form.getByRole('textbox', { name: 'What is to be done' }).fill('Straighten the side stand')
  const hours = form.getByRole('group', { name: 'Hours' })
  for (const point of ['low', 'likely', 'high']) await hours.getByRole('textbox', { name: point }).fill('1')
  await form.getByRole('button', { name: 'Add this job' }).click()
  await expect(form.getByRole('alert')).toContainText('Say why, in a few words.')
  await expect(form.getByRole('textbox', { name: 'What is to be done' })).toHaveValue(
    'Straighten the side stand',
  )
  await form.getByRole('textbox', { name: 'Why' }).fill('It leans too far on the left.')
  await form.getByRole('button', { name: 'Add this job' }).click()
  const added = jobOf(page, 'Straighten the side stand')
  await expect(added).toContainText('It leans too far on the left.')
  await expect(added).toContainText('Maren')

  const boots = jobOf(page, 'Intake boots renewed')
  await boots.getByText('Hours and parts', { exact: true }).click()
  await boots.getByText('Drop this job', { exact: true }).click()
  const drop = page.getByRole('form', { name: 'Drop Intake boots renewed' })
  await drop
    .getByRole('textbox', { name: 'Why' })
    .fill('A good set is on the shelf and goes on with the tank.')
  await drop.getByRole('button', { name: 'Drop it' }).click()
  await expect(boots).toHaveCount(0)
  await expect(
    page.getByRole('listitem').filter({ hasText: 'A good set is on the shelf' }).last(),
  ).toContainText('Intake boots renewed')
  await expectAccessible(page)

  await page
    .getByRole('form', { name: /^Take back: Intake boots renewed/ })
    .getByRole('button')
    .click()
  await expect(boots).toHaveCount(1)
  await added
    .getByRole('form', { name: /^Take back/ })
    .getByRole('button')
    .click()
  await expect(added).toHaveCount(0)
})

test('a reason opens a lock that may be opened so for a ride or a day, and never one that only the repair opens', async ({
  page,
}) => {
  const viewing = await demo.takeIn({ make: 'Lindale', model: '250', plate: 'KITE 15' })
  await asManager(page, `/bikes/${viewing}/checks`)
  await answer(page, 'Wet or dripping')
  await openRound(page, 'Running')
  await openCheck(page, 'Tail and brake lamp')
  await answer(page, 'Tail or brake lamp dead')
  await expect(page.getByText('All sent.')).toBeVisible()
  await openRound(page, 'Road')
  const shut = page.getByRole('region', { name: 'The road round is shut' })
  const fuel = shut.getByRole('listitem').filter({ hasText: 'Petrol wet or dripping' })
  const lamp = shut.getByRole('listitem').filter({ hasText: 'Tail or brake lamp dead' })
  await expect(fuel).toContainText('Only this opens it')
  await expect(fuel.getByText('Open it with a reason')).toHaveCount(0)

  await lamp.getByText('Open it with a reason').click()
  const form = page.getByRole('form', { name: 'Open with a reason: Tail or brake lamp dead' })
  await form.getByRole('button', { name: 'Open it' }).click()
  await expect(form.getByRole('textbox', { name: 'Why it is safe to go on' })).toHaveAccessibleDescription(
    /Say why/,
  )

  // Whoever changes what the page sends is told the same by the server.
  await form.locator('input[name="fault"]').evaluate((field) => field.setAttribute('value', 'fuel-leak'))
  await form.getByRole('textbox', { name: 'Why it is safe to go on' }).fill('Only a few drops.')
  await form.getByRole('button', { name: 'Open it' }).click()
  await expect(form.getByRole('alert')).toContainText('Only the repair and its recheck open this lock.')

  await page.reload()
  await awake(page)
  await lamp.getByText('Open it with a reason').click()
  await form
    .getByRole('textbox', { name: 'Why it is safe to go on' })
    .fill('In daylight, in the yard, with a marshal.')
  await form.getByRole('button', { name: 'Open it' }).click()
  await expect(lamp).toContainText(
    /Maren opened it until the next ride is back, at the latest .*with a marshal/,
  )
  await expect(lamp).toContainText('The fault is still there.')
  await expect(shut).toBeVisible()
  await expectAccessible(page)

  await openRound(page, 'Running')
  const running = page.getByRole('region', { name: 'The running round is shut' })
  await running.getByText(/^\d checks to do first$/).click()
  await expect(running.getByRole('listitem').filter({ hasText: 'Not good: Wet or dripping.' })).toContainText(
    'Fuel smell and leaks',
  )
  await running.getByText('And 2 more').click()
  const gas = running
    .getByRole('listitem')
    .filter({ has: page.getByRole('link', { name: /gas/i }) })
    .last()
  await gas.getByText('Open it with a reason').click()
  await tapChoice(page, 'For one day')
  await gas.getByRole('textbox', { name: 'Why it is safe to go on' }).fill('Out in the open yard.')
  await gas.getByRole('button', { name: 'Open it' }).click()
  await expect(running).toContainText(/Maren opened it until .*: Out in the open yard\./)
  await running.getByRole('link', { name: 'Throttle snaps shut' }).click()
  await expect(page.getByRole('heading', { level: 2, name: 'Throttle snaps shut' })).toBeFocused()
})

test('a save that saw an older bike is shown both values, and nothing typed is lost', async ({
  page,
  browser,
  complaints,
}) => {
  await asManager(page, '/bikes/6/edit')
  const other = await browser.newContext()
  watch(other, complaints)
  await comeIn(other, demo.people.dealer, demo.url)
  const theirs = await other.newPage()
  await theirs.goto(`${demo.url}/bikes/6/edit`)
  await awake(theirs)
  await theirs.getByRole('textbox', { name: 'Asking price' }).fill('1575')
  await theirs.getByRole('button', { name: 'Save' }).click()
  await expect(theirs.getByText('£1,575').first()).toBeVisible()

  const asking = page.getByRole('textbox', { name: 'Asking price' })
  await asking.fill('1490')
  await page.getByRole('textbox', { name: 'Notes' }).fill('Two keys and the tool roll.')
  await page.getByRole('button', { name: 'Save' }).click()
  await expect(page.getByRole('form', { name: 'Correct a bike' }).getByRole('alert')).toBeFocused()
  await expect(asking).toHaveValue('1490')
  await expect(asking).toHaveAccessibleDescription(/Stored now: .*1575/)
  await expect(page.getByRole('textbox', { name: 'Notes' })).toHaveValue('Two keys and the tool roll.')
  await expectAccessible(page)
  await page.getByRole('button', { name: 'Save' }).click()
  await expect(page.getByText('£1,490').first()).toBeVisible()
  await other.close()
})

test('what the shop’s own looks say of a chance counts once the manager accepts it, and can be taken back', async ({
  page,
}) => {
  await asManager(page, '/settings')
  await page
    .getByRole('navigation', { name: 'Settings' })
    .getByRole('link', { name: 'Learned chances' })
    .click()
  await expect(page.getByRole('heading', { level: 1, name: 'Learned chances' })).toBeVisible()
  await awake(page)
  const head = page.getByRole('main').locator('header')
  const toLookAt = async () => Number(/\d+$/.exec((await head.textContent()) ?? '')?.[0])
  const before = await toLookAt()
  expect(before).toBeGreaterThan(1)
  await expectAccessible(page)

  const offered = page.getByRole('form', { name: 'Accept what was counted' })
  const first = offered.getByRole('listitem').first()
  const title = (await first.getByRole('heading').textContent())!
  const [, starting, learned] = /chance (\d+\s%), learned (\d+\s%)/.exec((await first.textContent()) ?? '')!
  expect(learned).not.toBe(starting)
  await expect(first).toContainText(/\d+ of \d+ bikes? here/)
  await offered.getByText(/move.* by less than one in a hundred$/).click()
  await expectAccessible(page)

  await first.getByRole('button', { name: /^Accept/ }).click()
  const inForce = page.getByRole('form', { name: 'Back to the starting chance' })
  const accepted = inForce.getByRole('listitem').filter({ has: page.getByRole('heading', { name: title }) })
  await expect(accepted).toContainText(`Starting chance ${starting}, in force ${learned}`)
  await expect(accepted).toContainText('counted until')
  expect(await toLookAt()).toBe(before - 1)
  await expectAccessible(page)

  await accepted.getByRole('button', { name: /^Back to the starting chance/ }).click()
  await expect(inForce).toHaveCount(0)
  await expect(offered.getByRole('listitem').filter({ hasText: title }).first()).toContainText(
    `Starting chance ${starting}, learned ${learned}`,
  )
  expect(await toLookAt()).toBe(before)
})
