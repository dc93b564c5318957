import type { Page } from '@playwright/test'
import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { forGloves } from './support/gloves'
import { expectNoMoney, expectNoMoneySent } from './support/no-money'
import { expect, test, watch } from './support/watched'

let demo: Demo

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

/** A bike on the bench whose tank is to be sealed. */
const toSeal = (registration: string, job: string) =>
  demo.tell({
    registration,
    happenings: [
      { daysAgo: 6, who: 'dealer', did: 'buy', price: '907' },
      { daysAgo: 5, who: 'manager', did: 'bench' },
      {
        ...{ daysAgo: 4, who: 'manager', did: 'decide' },
        decision: { kind: 'add-job', key: job, reason: 'Rust flakes in it.' },
      },
    ],
  })

test('the manager asks for a part and orders it, the technician says what came, and it is spent', async ({
  page,
  context,
  browser,
  complaints,
}) => {
  const viewing = await toSeal('KITE 71', 'tank-reseal')
  const other = await toSeal('KITE 72', 'tank-reseal')
  await comeIn(context, demo.people.manager, demo.url)
  const kit = 'Cleaner and sealer kit'
  const openParts = async (of: Page, path = '/parts') => {
    await of.goto(demo.url + path)
    await awake(of)
  }

  await test.step('what the two bikes lack stands there, and that they share a set-up', async () => {
    await openParts(page)
    await expect(page.getByRole('note').filter({ hasText: 'Better done together' })).toContainText(
      new RegExp(`Tank derusted and resealed: .*\\(${viewing}\\) and .*\\(${other}\\) share a set-up`),
    )
  })

  await test.step('a used pad set is not offered, and why', async () => {
    await page.getByText('Pad set × 2').first().click()
    const form = page.getByRole('form', { name: /^Ask for Pad set/ })
    await expect(form).toContainText('may have drunk oil or fluid')
    await expect(form.getByRole('radio', { name: /^Used/ })).toHaveCount(0)
    await expect(form.getByRole('radio', { name: /^Pattern/ })).toBeChecked()
  })

  await test.step('the kit is asked for, with a slip that is said at its field', async () => {
    await page.goto(`${demo.url}/bikes/${viewing}/parts`)
    await awake(page)
    await expect(page.getByText('1 of 1 part missing')).toBeVisible()
    await page.getByText(`Ask for ${kit}`).click()
    const form = page.getByRole('form', { name: `Ask for ${kit}, Tank derusted and resealed` })
    await form.getByLabel('Supplier').selectOption({ label: 'Harle Spares' })
    await form.getByLabel(/^Price of one/).fill('40 or so')
    await form.getByLabel(/^Days until it comes/).fill('5')
    await form.getByRole('button', { name: 'Put it on the list' }).click()
    await expect(form).toContainText('Give an amount in figures')
    await expect(form.getByLabel(/^Days until it comes/)).toHaveValue('5')
    await form.getByLabel(/^Price of one/).fill('41.70')
    await form.getByRole('button', { name: 'Put it on the list' }).click()
    await expect(page.getByText('of Harle Spares, 5 days once ordered.')).toBeVisible()
    await expectAccessible(page)
  })

  await test.step('its list says what is lacking to the least they deliver for', async () => {
    await openParts(page)
    await page
      .getByRole('listitem')
      .filter({ hasText: '£18.30 short of the least they deliver for' })
      .getByRole('link', { name: 'Harle Spares' })
      .click()
    await expect(page.getByRole('heading', { level: 1, name: 'Harle Spares' })).toBeVisible()
    await expect(page.getByText('£18.30 is lacking.')).toBeVisible()
    const set = page.getByRole('form', { name: `Set right: ${kit}` })
    await page.getByText(`${kit}, Lindale 700, 1998 (${viewing})`, { exact: true }).click()
    await set.getByLabel(/^How many/).fill('2')
    await set.getByRole('button', { name: 'Save' }).click()
    await expect(page.getByText('which this reaches.')).toBeVisible()
  })

  await test.step('on paper it is the list and nothing of what the bikes earn', async () => {
    await page.emulateMedia({ media: 'print' })
    await expect(page.getByRole('table')).toBeVisible()
    await expect(page.getByRole('form')).toHaveCount(0)
    await expect(page.getByText('margin')).toHaveCount(0)
    await page.emulateMedia({ media: 'screen' })
  })

  await test.step('it is ordered, and on its way', async () => {
    const form = page.getByRole('form', { name: 'Ordered of Harle Spares' })
    await expect(form.getByLabel('Carriage')).toHaveValue('5.90')
    await form.getByRole('button', { name: 'Ordered: 1 part' }).click()
    await expect(page.getByText('Nothing is on this list.')).toBeVisible()
    await openParts(page, `/bikes/${viewing}/parts`)
    await expect(page.getByText('On its way').first()).toBeVisible()
    await expect(page.getByText('1 more than needed')).toBeVisible()
  })

  const bench = await browser.newContext({ viewport: { width: 820, height: 1180 }, hasTouch: true })
  watch(bench, complaints)
  await comeIn(bench, demo.people.technician, demo.url)
  const tablet = await bench.newPage()

  await test.step('the technician sees what comes without money, and says that one of two is here', async () => {
    await openParts(tablet)
    await expectNoMoney(tablet)
    await forGloves(tablet)
    const mine = tablet.getByRole('form', { name: new RegExp(`^It is here: ${kit} × 2.*\\(${viewing}\\)`) })
    await mine.getByLabel('How many came').fill('1')
    await mine.getByRole('button', { name: 'It is here' }).click()
    const rest = tablet.getByRole('form', { name: new RegExp(`^Came wrong: ${kit}, .*\\(${viewing}\\)`) })
    const here = tablet.getByRole('form', { name: new RegExp(`^It is here: ${kit}, .*\\(${viewing}\\)`) })
    const row = tablet.getByRole('listitem').filter({ has: here })
    await row.getByText('It came wrong').click()
    await rest.getByLabel('What is wrong with it').fill('The tin leaks.')
    await rest.getByRole('button', { name: 'Say that it is wrong' }).click()
    await expect(tablet.getByText('The tin leaks.')).toBeVisible()
    await expectNoMoneySent({
      pages: [`${demo.url}/parts`, `${demo.url}/bikes/${viewing}/parts`],
      cookie: demo.people.technician.cookie,
      // Written with their pence: four figures alone could stand in an id.
      amounts: [],
      private: ['41.70', '83.40', '47.60', '907.00'],
    })
    await openParts(tablet, `/bikes/${viewing}/parts`)
    await expect(tablet.getByText('All in the box')).toBeVisible()
    await forGloves(tablet)
    await bench.close()
  })

  await test.step('what is in the box is spent, with its carriage, and the wrong one goes back', async () => {
    await openParts(page, `/bikes/${viewing}/work`)
    await expect(page.getByRole('heading', { name: 'Spent so far: £47.60' })).toBeVisible()
    await openParts(page)
    const wrong = page.getByRole('listitem').filter({ hasText: 'The tin leaks.' })
    await wrong.getByText('What became of the wrong one').click()
    const settle = page.getByRole('form', { name: new RegExp(`^Deal with: ${kit}`) })
    await settle.getByText('Sent back', { exact: true }).click()
    await settle.getByRole('button', { name: 'It is dealt with' }).click()
    await expect(page.getByText('The tin leaks.')).toHaveCount(0)
  })
})

test('what a broken bike left lies on the shelf and goes into another; what is out is overdue until it is back', async ({
  page,
  context,
}) => {
  const viewing = await toSeal('KITE 73', 'tank-reseal')
  await demo.tell({
    registration: 'KITE 74',
    happenings: [
      { daysAgo: 6, who: 'dealer', did: 'buy', price: '403' },
      {
        ...{ daysAgo: 4, who: 'technician', did: 'send out', what: 'Radiator', whoHas: 'Gannet Cooling' },
        dueIn: 2,
      },
    ],
  })
  await comeIn(context, demo.people.technician, demo.url)
  await page.setViewportSize({ width: 820, height: 1180 })
  await page.goto(`${demo.url}/parts`)
  await awake(page)

  await test.step('it is put on the shelf with its story', async () => {
    await page.getByText('Put something on the shelf', { exact: true }).click()
    const form = page.getByRole('form', { name: 'Put something on the shelf' })
    await form.getByLabel('What it is').fill('Sealer kit')
    await form.getByLabel('Fits make').fill('lindale')
    await form.getByLabel('Fits model').fill('700')
    await form.getByText('New', { exact: true }).click()
    await form.getByLabel(/^Where it came from/).fill('Left over from the one with the bent frame')
    await form.getByRole('button', { name: 'Put it on the shelf' }).click()
    await expect(page.getByText('Left over from the one with the bent frame')).toBeVisible()
  })

  await test.step('a bike that lacks it takes it, and gives it back', async () => {
    const use = page.getByRole('form', { name: new RegExp(`^Use Sealer kit.*\\(${viewing}\\)$`) })
    await use.getByRole('button', { name: 'Use it there' }).click()
    await expect(use).toHaveCount(0)
    await page.goto(`${demo.url}/bikes/${viewing}/parts`)
    await awake(page)
    await expect(page.getByText('All in the box')).toBeVisible()
    await page.getByRole('button', { name: 'Put it back on the shelf' }).click()
    await expect(page.getByText('1 of 1 part missing')).toBeVisible()
  })

  await test.step('the radiator is overdue until it is back', async () => {
    await page.goto(`${demo.url}/parts`)
    await awake(page)
    const radiator = page.getByRole('listitem').filter({ hasText: 'Radiator' })
    await expect(radiator).toContainText('Overdue')
    await expect(radiator).toContainText('Gannet Cooling has it')
    await radiator.getByRole('button', { name: 'It is back' }).click()
    await expect(radiator).toHaveCount(0)
    await expectNoMoney(page)
  })
})
