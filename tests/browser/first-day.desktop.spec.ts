import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { type RunningShop, startShop } from './support/server'
import { tapPin } from './support/sign-in'
import { expect, test, watch } from './support/watched'

let shop: RunningShop

test.beforeAll(async () => {
  shop = await startShop()
})
test.afterAll(() => shop?.close())

test('an empty shop is opened with the code of the terminal, and a second device joins it', async ({
  page,
  browser,
  complaints,
}) => {
  const form = page.getByRole('form', { name: 'First day' })
  const field = (name: string) => form.getByRole('textbox', { name })
  let deviceCode = ''

  await test.step('the first visit leads to the first day', async () => {
    await page.goto(shop.url)
    await expect(page.getByRole('heading', { level: 1, name: 'First day' })).toBeVisible()
    await expect(page).toHaveURL(/\/first-day$/)
    await expectAccessible(page)
    await awake(page)
  })

  await test.step('what is wrong stands at its field; nothing typed is lost but what is secret', async () => {
    await field('Code from the terminal').fill('AAAA-BBBB-CCCC')
    await field('Name of the shop').fill('Plover Lane Motorcycles')
    await form.getByRole('radio', { name: 'kilometres' }).check()
    await form.getByRole('combobox', { name: 'Currency' }).selectOption('EUR')
    await form.getByRole('radio', { name: 'Within the whole price' }).check()
    await field('Rate of that tax').fill('nineteen')
    await field('What an hour at the bench costs the shop').fill('46.50')
    await field('Your PIN').fill('123456')
    await field('What to call it').fill('Counter')
    await form.getByRole('button', { name: 'Open the shop' }).click()

    await expect(form.getByRole('alert')).toBeFocused()
    for (const name of ['Rate of that tax', 'Your name', 'Your PIN']) {
      await expect(field(name)).toHaveAttribute('aria-invalid', 'true')
      await expect(field(name)).toHaveAccessibleDescription(/\./)
    }
    await expect(field('Name of the shop')).toHaveValue('Plover Lane Motorcycles')
    await expect(form.getByRole('radio', { name: 'kilometres' })).toBeChecked()
    await expect(form.getByRole('combobox', { name: 'Currency' })).toHaveValue('EUR')
    await expect(form.getByRole('radio', { name: 'Within the whole price' })).toBeChecked()
    await expect(field('Rate of that tax')).toHaveValue('nineteen')
    await expect(field('What an hour at the bench costs the shop')).toHaveValue('46.50')
    await expect(field('What to call it')).toHaveValue('Counter')
    await expect(field('Your PIN')).toHaveValue('')
    await expect(field('Code from the terminal')).toHaveValue('')
    await expectAccessible(page)
  })

  await test.step('a code that is not the right one opens nothing', async () => {
    await field('Rate of that tax').fill('19')
    await form.getByRole('combobox', { name: 'Law of the road' }).selectOption('DE')
    await field('Your name').fill('Orla')
    await field('Your PIN').fill('593817')
    await field('Code from the terminal').fill('AAAA-BBBB-CCCC')
    await form.getByRole('button', { name: 'Open the shop' }).click()
    await expect(field('Code from the terminal')).toHaveAccessibleDescription(/does not open anything/)
    await expect(field('Your name')).toHaveValue('Orla')
  })

  await test.step('the right one opens the shop and signs its first manager in', async () => {
    // Read aloud and typed as it was heard: case and hyphens do not matter.
    await field('Code from the terminal').fill((shop.firstDayCode ?? '').toLowerCase().replaceAll('-', ' '))
    await field('Your PIN').fill('593817')
    await form.getByRole('button', { name: 'Open the shop' }).click()
    await expect(page.getByRole('heading', { level: 1, name: 'Queue' })).toBeVisible()
    await expect(page.getByText('No bike is waiting for work.')).toBeVisible()
    await expect(page.getByRole('banner')).toContainText('Plover Lane Motorcycles')
    await expectAccessible(page)
  })

  const to = async (nav: string, name: string) =>
    page.getByRole('navigation', { name: nav }).getByRole('link', { name, exact: true }).click()

  await test.step('every page of an empty shop says what to do first', async () => {
    await to('Shop', 'Board')
    await expect(page.getByText('No bike has been looked at yet.')).toBeVisible()
    await expect(page.getByRole('link', { name: 'Take the first viewing in' })).toBeVisible()
    await expectAccessible(page)
    await to('Shop', 'Bikes')
    await expect(page.getByText('No bike has been looked at yet.')).toBeVisible()
    await expectAccessible(page)
  })

  await test.step('the manager adds a technician and makes a code for a tablet', async () => {
    await to('Shop', 'Settings')
    await to('Settings', 'People and devices')
    await expect(page.getByRole('heading', { level: 1, name: 'People and devices' })).toBeVisible()
    await awake(page)
    const add = page.getByRole('form', { name: 'Add a person' })
    await add.getByRole('textbox', { name: 'Name' }).fill('Orla')
    await add.getByRole('textbox', { name: 'PIN' }).fill('604928')
    await add.getByRole('button', { name: 'Add this person' }).click()
    await expect(add.getByRole('alert')).toContainText('Choose at least one role.')
    await expect(add.getByRole('textbox', { name: 'PIN' })).toHaveValue('')
    await add.getByRole('textbox', { name: 'Name' }).fill('Tove')
    await add.getByRole('checkbox', { name: 'Technician' }).check()
    await add.getByRole('textbox', { name: 'PIN' }).fill('604928')
    await add.getByRole('button', { name: 'Add this person' }).click()
    await expect(add.getByText('Added. They can sign in now.')).toBeVisible()

    const codes = page.getByRole('form', { name: 'Code for a device' })
    await codes.getByRole('button', { name: 'Make a code for a device' }).click()
    const said = codes.getByText(/^[0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z]{4}$/)
    await expect(said).toBeVisible()
    deviceCode = (await said.textContent()) ?? ''
    await expectAccessible(page)
  })

  await test.step('a stranger’s tablet sees no name, and joins with the code', async () => {
    const tablet = await browser.newContext({ viewport: { width: 820, height: 1180 }, hasTouch: true })
    watch(tablet, complaints)
    const second = await tablet.newPage()
    await second.goto(`${shop.url}/board`)
    await expect(second).toHaveURL(/\/sign-in$/)
    await expect(second.getByRole('heading', { name: 'Enrol this device' })).toBeVisible()
    await expect(second.locator('body')).not.toContainText(/Orla|Tove|Plover/)
    await expectAccessible(second)
    await awake(second)
    await second.getByRole('textbox', { name: 'Code' }).fill(deviceCode)
    await second.getByRole('textbox', { name: 'What to call this device' }).fill('Bench tablet')
    await second.getByRole('button', { name: 'Enrol this device' }).click()
    await expect(second.getByText('Who are you?')).toBeVisible()
    await second.getByRole('link', { name: 'Tove' }).click()
    await expect(second.getByRole('heading', { level: 1, name: 'Tove' })).toBeVisible()
    await awake(second)
    await tapPin(second, '604928')
    await expect(second.getByRole('heading', { level: 1, name: 'Bikes' })).toBeVisible()
    await expect(second.getByRole('navigation', { name: 'Shop' }).getByRole('link')).toHaveText([
      'Bikes',
      'Parts',
      'Today',
    ])
    await tablet.close()
  })

  await test.step('a code is good for one device, and a device that is shut out is a stranger again', async () => {
    const other = await browser.newContext()
    watch(other, complaints)
    const third = await other.newPage()
    await third.goto(shop.url)
    await awake(third)
    await third.getByRole('textbox', { name: 'Code' }).fill(deviceCode)
    await third.getByRole('textbox', { name: 'What to call this device' }).fill('Found tablet')
    await third.getByRole('button', { name: 'Enrol this device' }).click()
    await expect(third.getByRole('textbox', { name: 'Code' })).toHaveAccessibleDescription(
      /does not open anything/,
    )
    await other.close()
    await page.reload()
    await page.getByRole('form', { name: 'Shut out Bench tablet' }).getByRole('button').click()
    await expect(page.getByRole('form', { name: 'Shut out Bench tablet' })).toHaveCount(0)
  })

  await test.step('the manager signs out', async () => {
    await page.getByRole('button', { name: 'Sign out' }).click()
    await expect(page.getByText('Who are you?')).toBeVisible()
    await page.goto(`${shop.url}/settings`)
    await expect(page).toHaveURL(/\/sign-in$/)
  })
})
