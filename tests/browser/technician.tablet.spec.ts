import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { expectNoMoney } from './support/no-money'
import { answer, openCheck, openedCheck, openRound, record, tapChoice, tapNumber } from './support/sheet'
import { chooseName, tapPin } from './support/sign-in'
import { smallTargets } from './support/targets'
import { expect, test } from './support/watched'

let demo: Demo

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

/** 3.5 rem: what a thumb in a glove hits. */
const glove = 56

test('the technician signs in, checks a bike cold, and every reading is judged and kept', async ({
  page,
}) => {
  await demo.takeIn({ make: 'Lindale', model: '500', plate: 'KITE 11' })

  await test.step('a wrong PIN is told, the right one opens the bikes', async () => {
    const pin = await chooseName(page, { url: demo.url, name: 'Wyn' })
    expect(await smallTargets(page, glove)).toEqual([])
    await expectAccessible(page, { bench: true })
    await tapPin(page, '907856')
    await expect(page.getByLabel('PIN', { exact: true })).toHaveAccessibleDescription(/That PIN is not right/)
    await expect(page.getByLabel('PIN', { exact: true })).toHaveValue('')
    await tapPin(page, pin)
    await expect(page.getByRole('heading', { level: 1, name: 'Bikes' })).toBeVisible()
  })

  await test.step('the list says what comes next on each bike, and no money', async () => {
    await expectNoMoney(page)
    await expectAccessible(page, { bench: true })
    expect(await smallTargets(page, glove)).toEqual([])
    const row = page.getByRole('listitem').filter({ hasText: 'KITE 11' })
    await row.getByRole('link', { name: 'Start the cold round' }).click()
    await expect(page.getByRole('heading', { level: 1, name: 'Lindale 500, 1998' })).toBeVisible()
    await awake(page)
  })

  await test.step('a look answered good leads on to the next', async () => {
    await expect(page.getByRole('heading', { level: 2, name: 'Fuel smell and leaks' })).toBeVisible()
    await expectNoMoney(page)
    await answer(page, 'Dry, no smell')
    await expect(page.getByRole('heading', { level: 2, name: 'Stands safely' })).toBeFocused()
    await expect(page.getByRole('status').filter({ hasText: 'Recorded: Fuel smell and leaks' })).toBeVisible()
  })

  await test.step('a look answered bad stays, and says what is wrong', async () => {
    await openCheck(page, 'Oil smelt and looked at')
    await answer(page, 'Black or gritty')
    await expect(openedCheck(page)).toContainText('Outside')
    await expect(page.getByRole('button', { name: /^Next: / })).toBeFocused()
  })

  await test.step('a measurement goes from place to place, and the worst of them counts', async () => {
    await openCheck(page, 'Front tread depth')
    await record(page, '4.2')
    await expect(page.getByRole('textbox', { name: 'Reading: Middle' })).toBeFocused()
    await expect(page.getByRole('region', { name: /^All checks/ })).toContainText('1 of 3')
    await record(page, '4.0')
    await record(page, '0.8')
    await expect(openedCheck(page)).toContainText('Outside')
    await expect(
      page.getByRole('img', {
        name: /^Front tread depth, in mm: read Left of the middle 4\.2.*, Middle 4 .*, Right of the middle 0\.8/,
      }),
    ).toBeVisible()
  })

  await test.step('what cannot be right is refused at the pad, and what was typed stays', async () => {
    await openCheck(page, 'Rear tread depth')
    await tapNumber(page, '42')
    await page.getByRole('button', { name: 'Record', exact: true }).click()
    const box = page.getByRole('textbox', { name: /^Reading/ })
    await expect(box).toHaveAttribute('aria-invalid', 'true')
    await expect(box).toHaveAccessibleDescription(/.+/)
    await expect(box).toHaveValue('42')
  })

  await test.step('a tyre code is read out while it is typed', async () => {
    await openCheck(page, 'Front tyre date code')
    await tapNumber(page, '301')
    await expect(openedCheck(page)).toContainText(/Week 30/)
    for (let digit = 0; digit < 3; digit += 1) {
      await page.getByRole('button', { name: 'Delete the last key' }).click()
    }
    await tapNumber(page, '0301')
    await expect(openedCheck(page)).toContainText(/Week 3 of 2001/)
    await page.getByRole('button', { name: 'Record', exact: true }).click()
    await expect(openedCheck(page)).toContainText('Outside')
  })

  await test.step('a check is left out with a reason, and counts as not checked', async () => {
    await openCheck(page, 'Tank inside')
    await page.getByText('Not checked, because …').click()
    await page.getByRole('button', { name: 'No tool for it here' }).click()
    await expect(
      page.getByRole('status').filter({ hasText: 'Recorded: Tank inside Not checked' }),
    ).toBeVisible()
    await openCheck(page, 'Tank inside')
    await expect(page.getByRole('region', { name: 'Readings taken' })).toContainText(
      'Not checked: No tool for it here',
    )
  })

  await test.step('a correction stands beside what it corrects', async () => {
    await openCheck(page, 'Battery volts at rest')
    await tapChoice(page, 'Rested for some hours')
    await tapChoice(page, 'Everything switched off')
    await record(page, '11.2')
    await expect(openedCheck(page)).toContainText('Outside')
    await page.getByRole('button', { name: 'Correct 11.2 V' }).click()
    await tapNumber(page, '12.9')
    await page.getByRole('button', { name: 'Correct', exact: true }).click()
    const taken = page.getByRole('region', { name: 'Readings taken' })
    await expect(taken.getByText('11.2 V')).toHaveCSS('text-decoration-line', 'line-through')
    await expect(taken.getByRole('strong')).toHaveText('12.9 V')
    await expect(openedCheck(page).getByText('Within', { exact: true })).toBeVisible()
  })

  await test.step('everything has gone out, everything can be hit with a glove, and nothing is hard to read', async () => {
    await expect(page.getByText('All sent.')).toBeVisible()
    await expectAccessible(page, { bench: true })
    for (const check of [
      'Front tread depth',
      'Fuel smell and leaks',
      'Front tyre date code',
      'Keys that work',
    ]) {
      await openCheck(page, check)
      expect(await smallTargets(page, glove), check).toEqual([])
    }
    await expectNoMoney(page)
  })

  await test.step('loaded again, the page shows what the server keeps', async () => {
    await openCheck(page, 'Battery volts at rest')
    await page.reload()
    await expect(page.getByRole('heading', { level: 2, name: 'Battery volts at rest' })).toBeVisible()
    await expect(page.getByRole('region', { name: 'Readings taken' })).toContainText('11.2 V corrected')
    await page
      .getByRole('navigation', { name: 'This bike' })
      .getByRole('link', { name: 'Bike', exact: true })
      .click()
    await expect(page.getByRole('heading', { name: 'What is wrong' })).toBeVisible()
    await expectNoMoney(page)
    await expectAccessible(page, { bench: true })
    expect(await smallTargets(page, glove)).toEqual([])
  })
})

test('a disc is held against the figure stamped on it, and a reading near it is too close to call', async ({
  page,
  context,
}) => {
  const viewing = await demo.takeIn({ make: 'Lindale', model: '750', plate: 'KITE 12' })
  await comeIn(context, demo.people.technician, demo.url)
  await page.goto(`${demo.url}/bikes/${viewing}/checks?round=stand&check=disc-front-left`)
  await awake(page)
  await expect(page.getByRole('heading', { level: 2, name: 'Front disc thickness, left' })).toBeVisible()
  await expect(openedCheck(page)).toContainText('set by model')

  await page.getByText('Set a limit for this bike', { exact: true }).click()
  const form = page.getByRole('form', { name: 'Set a limit for this bike' })
  await form.getByRole('button', { name: 'Set this limit' }).click()
  await expect(form.getByRole('alert')).toBeFocused()
  await expect(form.getByRole('alert')).toContainText('Say where the figure stands.')
  await expectAccessible(page, { bench: true })
  await form.getByRole('radio', { name: 'Stamped on the part' }).check()
  await form.getByRole('textbox', { name: 'Least' }).fill('4.5')
  await form.getByRole('textbox', { name: 'Where exactly' }).fill('MIN TH 4.5 on the carrier')
  await form.getByRole('button', { name: 'Set this limit' }).click()
  await expect(openedCheck(page)).toContainText(/stamped on the part: MIN TH 4\.5 on the carrier/i)

  await page.getByRole('radio', { name: /calliper/i }).check()
  for (const reading of ['4.6', '4.6', '4.6', '4.52']) await record(page, reading)
  await expect(openedCheck(page).getByText('Too close to call', { exact: true }).first()).toBeVisible()
  await page.getByRole('button', { name: 'Correct 4.52 mm' }).click()
  await tapNumber(page, '4.31')
  await page.getByRole('button', { name: 'Correct', exact: true }).click()
  await expect(openedCheck(page).getByText('Outside', { exact: true }).first()).toBeVisible()
  await expect(page.getByText('All sent.')).toBeVisible()
  await expectAccessible(page, { bench: true })

  // A disc below its least thickness is no bike to ride.
  const road = page.getByRole('navigation', { name: 'Rounds' }).getByRole('button', { name: /Road/ })
  await expect(road).toContainText('Shut')
})

test('a wet fuel leak shuts running and road and holds back how, and what the seller did is still written down', async ({
  page,
  context,
}) => {
  const viewing = await demo.takeIn({ make: 'Lindale', model: '350', plate: 'KITE 13' })
  await comeIn(context, demo.people.technician, demo.url)
  await page.goto(`${demo.url}/bikes/${viewing}/checks`)
  await awake(page)
  await answer(page, 'Wet or dripping')
  await expect(openedCheck(page)).toContainText('Petrol wet or dripping')
  const rounds = page.getByRole('navigation', { name: 'Rounds' })
  await expect(rounds.getByRole('button', { name: /Running/ })).toContainText('Shut')
  await expect(rounds.getByRole('button', { name: /Road/ })).toContainText('Shut')
  await expect(rounds.getByRole('button', { name: /Cold/ })).not.toContainText('Shut')
  await expect(rounds.getByRole('button', { name: /Stand/ })).not.toContainText('Shut')
  await expect(page.getByText('All sent.')).toBeVisible()

  await openRound(page, 'Running')
  const shut = page.getByRole('region', { name: 'The running round is shut' })
  await expect(shut).toContainText('Petrol wet or dripping')
  await expect(shut).toContainText('Only this opens it')
  await expect(shut.getByText('Open it for one day')).toHaveCount(0)
  await openCheck(page, 'Cold start')
  await expect(openedCheck(page)).toContainText('How to do it is held back while this round is shut.')
  await expect(
    openedCheck(page)
      .getByRole('list')
      .filter({ hasText: /choke|starter/i }),
  ).toHaveCount(0)
  await expectAccessible(page, { bench: true })
  expect(await smallTargets(page, glove)).toEqual([])

  await page.getByRole('checkbox', { name: 'Seen, the seller did it' }).check()
  await answer(page, 'Starts soon and settles')
  await expect(page.getByText('All sent.')).toBeVisible()
  await page.reload()
  await openCheck(page, 'Cold start')
  await expect(page.getByRole('region', { name: 'Readings taken' })).toContainText('Seen, the seller did it')
  await expectNoMoney(page)

  await page
    .getByRole('navigation', { name: 'Shop' })
    .getByRole('link', { name: 'Bikes', exact: true })
    .click()
  const row = page.getByRole('listitem').filter({ hasText: 'KITE 13' })
  await expect(row).toContainText('Petrol wet or dripping')
})

test('what was recorded by mistake is undone at once or taken back later, and stays in the record', async ({
  page,
  context,
}) => {
  const viewing = await demo.takeIn({ make: 'Lindale', model: '250', plate: 'KITE 15' })
  await comeIn(context, demo.people.technician, demo.url)
  await page.goto(`${demo.url}/bikes/${viewing}/checks`)
  await awake(page)
  const running = page.getByRole('navigation', { name: 'Rounds' }).getByRole('button', { name: /Running/ })
  const taken = page.getByRole('region', { name: 'Readings taken' })
  const leak = page.getByRole('heading', { level: 2, name: 'Fuel smell and leaks' })

  await test.step('a slip that shut the engine is undone', async () => {
    await answer(page, 'Wet or dripping')
    await expect(running).toContainText('Shut')
    await expect(openedCheck(page)).toContainText('Petrol wet or dripping')
    await page.getByRole('button', { name: /^Undo/ }).click()
    await expect(
      page.getByRole('status').filter({ hasText: 'Taken back: Fuel smell and leaks' }),
    ).toBeVisible()
    await expect(page.getByRole('button', { name: /^Undo/ })).toHaveCount(0)
    await expect(leak).toBeFocused()
    await expect(taken.getByText('Wet or dripping')).toHaveCSS('text-decoration-line', 'line-through')
    await expect(taken).toContainText(/Wet or dripping taken back by Wyn/)
    await expect(page.getByText('All sent.')).toBeVisible()
    await expect(openedCheck(page)).not.toContainText('Petrol wet or dripping')
  })

  await test.step('undone with the keyboard, from the check it had led on to', async () => {
    await answer(page, 'Dry, no smell')
    await expect(page.getByRole('heading', { level: 2, name: 'Stands safely' })).toBeFocused()
    await page.getByRole('button', { name: /^Undo/ }).focus()
    await page.keyboard.press('Enter')
    await expect(leak).toBeFocused()
    await expect(page.getByRole('group', { name: 'What is it like?' })).toBeVisible()
  })

  await test.step('a correction that was a slip gives its place back', async () => {
    await openCheck(page, 'Rear tread depth')
    await record(page, '4.2')
    await page.getByRole('button', { name: 'Correct 4.2 mm' }).click()
    await tapNumber(page, '2.4')
    await page.getByRole('button', { name: 'Correct', exact: true }).click()
    await expect(openedCheck(page)).toContainText('1 of 3 positions read')
    await expect(taken.getByRole('strong')).toHaveText('2.4 mm')
    await page.getByRole('button', { name: /^Undo/ }).click()
    await expect(taken.getByRole('strong')).toHaveText('4.2 mm')
  })

  await test.step('a reading is taken back later, with the reason', async () => {
    await page.reload()
    await awake(page)
    await page.getByRole('button', { name: 'Take back 4.2 mm' }).click()
    await expectAccessible(page, { bench: true })
    expect(await smallTargets(page, glove)).toEqual([])
    await page.getByRole('button', { name: 'Taken at the wrong place' }).click()
    await expect(taken.getByRole('strong')).toHaveCount(0)
    await expect(taken).toContainText('(Taken at the wrong place)')
    await expect(page.getByText('All sent.')).toBeVisible()
    await page.reload()
    await expect(taken).toContainText(/4\.2 mm taken back by Wyn/)
  })
})

test('charging volts count only with the engine speed beside them', async ({ page, context }) => {
  const viewing = await demo.takeIn({ make: 'Lindale', model: '400', plate: 'KITE 16' })
  await comeIn(context, demo.people.technician, demo.url)
  await page.goto(`${demo.url}/bikes/${viewing}/checks?round=running&check=charging-speed-volts`)
  await awake(page)
  await expect(page.getByRole('heading', { level: 2, name: 'Charging volts at speed' })).toBeVisible()
  const volts = page.getByRole('textbox', { name: 'Reading' })
  const speed = page.getByRole('textbox', { name: 'Engine speed' })
  await expect(speed).toHaveAccessibleDescription('Without it the reading is kept and not judged.')
  await record(page, '12.7')
  await expect(openedCheck(page).getByText('Not judged', { exact: true })).toBeVisible()
  await expect(openedCheck(page)).toContainText('Measure it again and enter the engine speed')
  await expectAccessible(page, { bench: true })

  await page.getByRole('button', { name: 'Measure again' }).click()
  await speed.click()
  await tapNumber(page, '50')
  await volts.click()
  await tapNumber(page, '12.7')
  await page.getByRole('button', { name: 'Record', exact: true }).click()
  await expect(speed).toHaveAttribute('aria-invalid', 'true')
  await expect(speed).toHaveAccessibleDescription(/like 5000/)
  await expect(speed).toBeFocused()
  await tapNumber(page, '00')
  await expect(speed).toHaveValue('5000')
  expect(await smallTargets(page, glove)).toEqual([])
  await page.getByRole('button', { name: 'Record', exact: true }).click()
  await expect(openedCheck(page).getByText('Outside', { exact: true })).toBeVisible()
  await expect(page.getByRole('region', { name: 'Readings taken' })).toContainText('at 5,000 rpm')
  await expect(page.getByText('All sent.')).toBeVisible()
})

test('a disc near its limit is decided by the finer instrument, and four places are needed', async ({
  page,
  context,
}) => {
  const viewing = await demo.takeIn({ make: 'Ostrel', model: '750', plate: 'KITE 17' })
  for (const check of ['disc-front-left', 'disc-front-right'])
    await demo.limit({ viewing, check, min: '4.5', asNew: '5', saleMin: '4.6' })
  await comeIn(context, demo.people.technician, demo.url)
  await page.goto(`${demo.url}/bikes/${viewing}/checks?round=stand&check=disc-front-left`)
  await awake(page)
  const opened = openedCheck(page)
  const verdict = (words: string) => opened.getByText(words, { exact: true }).first()

  await test.step('a calliper cannot call 4.52 against 4.5', async () => {
    await tapChoice(page, 'Calliper')
    for (const reading of ['4.52', '4.52', '4.52', '4.52']) await record(page, reading)
    await expect(verdict('Too close to call')).toBeVisible()
    await expect(opened).toContainText(/Take another reading.*finer instrument: micrometer/)
    await expect(page.getByRole('img', { name: /least 4\.5; sale line 4\.6; new 5/ })).toBeVisible()
    await expect(opened).toContainText('Wear left')
  })

  await test.step('the micrometer can: within, and under the sale line', async () => {
    await page.getByRole('button', { name: 'Measure again' }).click()
    await tapChoice(page, 'Micrometer')
    for (const reading of ['4.52', '4.52', '4.52', '4.52']) await record(page, reading)
    await expect(verdict('Within')).toBeVisible()
    await expect(opened).toContainText("under the shop's sale line of 4.6 mm")
    await expect(page.getByRole('button', { name: 'Measure again' })).toBeVisible()
  })

  await test.step('the other disc: one place of four says nothing yet, all four say outside', async () => {
    await openCheck(page, 'Front disc thickness, right')
    await expect(page.getByRole('radio', { name: 'Micrometer' })).toBeChecked()
    await record(page, '4.61')
    await expect(opened).toContainText('1 of 4 positions read')
    await expect(verdict('Not judged')).toBeVisible()
    for (const reading of ['4.49', '4.46', '4.50']) await record(page, reading)
    await expect(verdict('Outside')).toBeVisible()
    await expect(
      page.getByRole('img', { name: /read In line with the valve 4\.61.*Three quarters on 4\.5 / }),
    ).toBeVisible()
    await expect(page.getByText('All sent.')).toBeVisible()
    await expectAccessible(page, { bench: true })
    expect(await smallTargets(page, glove)).toEqual([])
  })
})

test.describe('without a network', () => {
  test.use({ provoked: [/ERR_INTERNET_DISCONNECTED/] })

  test('what is recorded waits, says so, and is sent when the network is back', async ({ page, context }) => {
    const viewing = await demo.takeIn({ make: 'Lindale', model: '900', plate: 'KITE 14' })
    await comeIn(context, demo.people.technician, demo.url)
    await page.goto(`${demo.url}/bikes/${viewing}/checks`)
    await awake(page)
    await context.setOffline(true)
    await answer(page, 'Dry, no smell')
    await answer(page, 'Steady')
    await openCheck(page, 'Front tread depth')
    for (const reading of ['4.2', '4.1', '4.4']) await record(page, reading)
    await expect(openedCheck(page)).toContainText('As judged on this device; on its way to the server.')
    await expect(
      page.getByText('No network: 5 readings on this tablet. Sent by itself once there is one.'),
    ).toBeVisible()
    await expectAccessible(page, { bench: true })
    const { id } = (await demo.bikes()).find((bike) => bike.viewingNo === viewing)!
    expect(await demo.readings(id)).toEqual([])

    await context.setOffline(false)
    await expect(page.getByText('All sent.')).toBeVisible({ timeout: 40_000 })
    const kept = await demo.readings(id)
    expect(kept.map(({ check, value }) => [check, value])).toEqual([
      ['fuel-leaks', 'dry'],
      ['stands-safely', 'steady'],
      ['tread-front', '4.2'],
      ['tread-front', '4.1'],
      ['tread-front', '4.4'],
    ])
    await page.reload()
    await expect(page.getByRole('region', { name: 'Readings taken' })).toContainText('4.4')
  })

  test('what is undone there goes out behind what it takes back', async ({ page, context }) => {
    const viewing = await demo.takeIn({ make: 'Lindale', model: '125', plate: 'KITE 18' })
    await comeIn(context, demo.people.technician, demo.url)
    await page.goto(`${demo.url}/bikes/${viewing}/checks`)
    await awake(page)
    await context.setOffline(true)
    await answer(page, 'Wet or dripping')
    await page.getByRole('button', { name: /^Undo/ }).click()
    await answer(page, 'Dry, no smell')
    await expect(
      page.getByText('No network: 3 readings on this tablet. Sent by itself once there is one.'),
    ).toBeVisible()
    await context.setOffline(false)
    await expect(page.getByText('All sent.')).toBeVisible({ timeout: 40_000 })
    const { id } = (await demo.bikes()).find((bike) => bike.viewingNo === viewing)!
    expect((await demo.readings(id)).map(({ kind, value }) => [kind, value])).toEqual([
      ['answer', 'wet'],
      ['withdrawn', 'Undone at once'],
      ['answer', 'dry'],
    ])
  })
})
