import type { Locator, Page } from '@playwright/test'
import sharp from 'sharp'
import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { noteDown } from './support/note-down'
import { answer, openCheck, openedCheck, record, tapChoice, tapNumber } from './support/sheet'
import { chooseName, tapPin } from './support/sign-in'
import { smallTargets } from './support/targets'
import { expect, test } from './support/watched'
import { workedOut } from './support/worked-out'

let demo: Demo

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

/** An invented bike, and what its seller and the dealer say of it. */
const bike = { make: 'Lindale', model: '350 single', year: '1994', plate: 'KITE 07' }

test('the dealer takes a bike in, finds what is wrong with it, and sees what it may cost', async ({
  page,
}) => {
  await test.step('signs in on a device the demo lets in', async () => {
    const pin = await chooseName(page, { url: demo.url, name: 'Idris' })
    await tapPin(page, pin)
    await expect(page.getByRole('heading', { level: 1, name: 'Board' })).toBeVisible()
  })

  await test.step('is told at each field what is wrong, and has to type nothing twice', async () => {
    await page.getByRole('navigation', { name: 'Shop' }).getByRole('link', { name: 'New viewing' }).click()
    await expect(page.getByRole('heading', { level: 1, name: 'New viewing' })).toBeVisible()
    await page.getByRole('combobox', { name: 'Make' }).fill(bike.make)
    await page.getByRole('textbox', { name: 'Year' }).fill('94')
    await page.getByRole('textbox', { name: 'Registration' }).fill(bike.plate)
    await page.getByRole('textbox', { name: 'Distance' }).fill('18,250')
    await tileOf(page, 'Front brake', 'One disc').check()
    await tileOf(page, 'Rear brake', 'Drum').check()
    await tileOf(page, 'Wheels', 'Spoked').check()
    await page.getByRole('textbox', { name: 'Asking price' }).fill('about nine hundred')
    await page.getByRole('textbox', { name: 'Low' }).fill('2200')
    await page.getByRole('textbox', { name: 'Likely' }).fill('2000')
    await page.getByRole('textbox', { name: 'High' }).fill('2400')
    await page.getByRole('textbox', { name: 'Notes' }).fill('Laid up since the spring.\nOne owner.')
    await page.getByRole('button', { name: 'Take it in' }).click()

    const told = page.getByRole('form', { name: 'New viewing' }).getByRole('alert')
    await expect(told).toBeFocused()
    await expect(told.getByRole('link')).toHaveCount(3)
    const wrong: [Locator, RegExp][] = [
      [page.getByRole('textbox', { name: 'Model' }), /Give the model\./],
      [page.getByRole('textbox', { name: 'Year' }), /Give the year in four digits/],
      [page.getByRole('textbox', { name: 'Asking price' }), /Give an amount in figures/],
    ]
    for (const [field, message] of wrong) {
      await expect(field).toHaveAttribute('aria-invalid', 'true')
      await expect(field).toHaveAccessibleDescription(message)
    }
    await expect(page.getByRole('combobox', { name: 'Make' })).toHaveValue(bike.make)
    await expect(page.getByRole('textbox', { name: 'Year' })).toHaveValue('94')
    await expect(page.getByRole('textbox', { name: 'Registration' })).toHaveValue(bike.plate)
    await expect(page.getByRole('textbox', { name: 'Distance' })).toHaveValue('18,250')
    await expect(tileOf(page, 'Front brake', 'One disc')).toBeChecked()
    await expect(tileOf(page, 'Rear brake', 'Drum')).toBeChecked()
    await expect(tileOf(page, 'Wheels', 'Spoked')).toBeChecked()
    await expect(tileOf(page, 'Final drive', 'Chain')).toBeChecked()
    await expect(page.getByRole('textbox', { name: 'Asking price' })).toHaveValue('about nine hundred')
    await expect(page.getByRole('textbox', { name: 'Low' })).toHaveValue('2200')
    await expect(page.getByRole('textbox', { name: 'Notes' })).toHaveValue(
      'Laid up since the spring.\nOne owner.',
    )
    await expectAccessible(page)
    await told.getByRole('link', { name: /Give the model/ }).click()
    await expect(page.getByRole('textbox', { name: 'Model' })).toBeFocused()
  })

  await test.step('puts it right, and the bike has its viewing number and its kind', async () => {
    await page.getByRole('textbox', { name: 'Model' }).fill(bike.model)
    await page.getByRole('textbox', { name: 'Year' }).fill(bike.year)
    await page.getByRole('textbox', { name: 'Asking price' }).fill('900')
    await page.getByRole('button', { name: 'Take it in' }).click()
    const low = page.getByRole('textbox', { name: 'Low' })
    await expect(low).toHaveAccessibleDescription(/Low must not be above likely/)
    await expect(page.getByRole('textbox', { name: 'Model' })).toHaveValue(bike.model)
    await expect(tileOf(page, 'Front brake', 'One disc')).toBeChecked()
    await low.fill('1800')
    await page.getByRole('button', { name: 'Take it in' }).click()
    await expect(
      page.getByRole('heading', { level: 1, name: `${bike.make} ${bike.model}, ${bike.year}` }),
    ).toBeVisible()
    await expect(page.getByText(`Viewing 14, ${bike.plate}`)).toBeVisible()
    await expect(page.getByText(/one disc in front, drum behind, no ABS, spoked wheels/)).toBeVisible()
    await expect(page.getByText('18,250 miles')).toBeVisible()
  })

  await test.step('takes a photo and sees it', async () => {
    await page.getByLabel('Add photos').setInputFiles({
      name: 'left side.jpg',
      mimeType: 'image/jpeg',
      buffer: await sharp({ create: { width: 96, height: 72, channels: 3, background: '#69506a' } })
        .jpeg()
        .toBuffer(),
    })
    const photo = page.getByRole('img', { name: /^Photo of/ })
    await expect(photo).toBeVisible()
    await expect(photo).toHaveJSProperty('naturalWidth', 96)
    await expect(page.getByText('on its way')).toHaveCount(0)
  })

  await test.step('records a dozen readings of the cold round', async () => {
    await expect(page.getByRole('link', { name: 'Start the short round' })).toBeVisible()
    await page.getByRole('link', { name: /^Cold\b/ }).click()
    await expect(page.getByRole('navigation', { name: 'Rounds' })).toBeVisible()
    // What is not sent yet lives in the page: loading it anew while readings come and go would lose them.
    await page.evaluate(() => Object.assign(window, { stillHere: true }))
    await tapChoice(page, 'Bike upright')
    await tapChoice(page, 'On level ground')
    for (const [check, words] of looks) {
      await expect(page.getByRole('heading', { level: 2, name: check })).toBeVisible()
      await answer(page, words)
    }

    await openCheck(page, 'Front tread depth')
    for (const [place, reading] of treads) {
      await expect(page.getByRole('textbox', { name: `Reading: ${place}` })).toBeVisible()
      await record(page, reading)
    }
    await expect(
      page.getByRole('img', {
        name: /^Front tread depth, in mm: read Left of the middle 4\.2.*, Middle 4 .*, Right of the middle 4\.1/,
      }),
    ).toBeVisible()
    await expect(openedCheck(page)).toContainText('Within')

    await openCheck(page, 'Rear tyre date code')
    await tapNumber(page, '0822')
    await expect(page.getByText(/^Week 8 of 2022/)).toBeVisible()
    await page.getByRole('button', { name: 'Record', exact: true }).click()
    await expect(page.getByRole('button', { name: /^Next: / })).toBeVisible()

    await openCheck(page, 'Intake boots')
    await answer(page, 'Cracks that open')
    await expect(openedCheck(page)).toContainText('Outside')
    await expect(openedCheck(page)).toContainText('Intake boots cracked.')
    await expectAccessible(page, { bench: true })
    await expect(page.getByText('All sent.')).toBeVisible()
    expect(await page.evaluate(() => 'stillHere' in window)).toBe(true)
  })

  await test.step('sees the fault priced, and opens it down to the reading', async () => {
    await toPage(page, 'Work')
    const job = page
      .getByRole('article')
      .filter({ has: page.getByRole('heading', { name: 'Intake boots renewed' }) })
    await expect(job).toContainText('For: Intake boots cracked')
    await expect(job).toContainText(/[\d.]+\sh, £\d/)

    const fault = page
      .getByRole('article')
      .filter({ has: page.getByRole('heading', { name: 'Intake boots cracked' }) })
    await fault.getByText('Why', { exact: true }).click()
    await expect(fault.getByText('Cracks that open', { exact: true })).toBeVisible()
    await expect(fault.getByText(/^Idris · /)).toBeVisible()
    await fault.getByRole('link', { name: 'Intake boots' }).click()
    await expect(page.getByRole('heading', { level: 2, name: 'Intake boots' })).toBeVisible()
    await expect(page.getByRole('article')).toContainText('Cracks that open')
  })

  await test.step('is told the most that may be paid, and writes an offer below it', async () => {
    await toPage(page, 'Deal')
    const three = page.getByRole('region', { name: 'Three prices' })
    await expect(three.getByText('Walk away above')).toBeVisible()
    await expect(three).toContainText(/£[\d,.]+/)
    await page.getByRole('textbox', { name: 'Price offered' }).fill('650')
    await page.getByRole('button', { name: 'Write the offer down' }).click()
    await expect(page.getByText('The offer is written down.')).toBeVisible()
    await expect(page.getByRole('heading', { name: 'Offered £650' })).toBeVisible()
  })

  await test.step('cannot buy it before it is known whose it is', async () => {
    await toPage(page, 'Bike')
    await page.getByText('It is bought', { exact: true }).click()
    await expect(page.getByRole('form', { name: 'Bought' })).toHaveCount(0)
    await toPage(page, 'Identity')
    await expectAccessible(page)
    for (const register of ['stolen vehicles', 'finance outstanding', 'written-off vehicles', 'recalls'])
      await noteDown(
        page,
        `Answer on ${register}`,
        { 'Asked of': 'The register, by its web form' },
        'Nothing on record',
      )
    await noteDown(page, "Seller's identity", {}, /^Seen, name and address taken/)
    await noteDown(page, 'Right to sell', {}, /^Seller is the keeper and is paid/)
    await noteDown(page, 'Frame number on frame, plate and paper', {}, /^The same on frame, plate and paper/)
    await noteDown(page, 'Keys', {}, /^Counted and tried/)
    await expect(page.locator('main > header')).toContainText('May be bought')
  })

  await test.step('buys it, and it gets a stock number', async () => {
    await toPage(page, 'Bike')
    await page.getByText('It is bought', { exact: true }).click()
    const form = page.getByRole('form', { name: 'Bought' })
    await form.getByRole('textbox', { name: 'Price paid' }).fill('700')
    await form.getByRole('button', { name: /^Buy it/ }).click()
    await expect(page.getByText(`Viewing 14, stock 9, ${bike.plate}`)).toBeVisible()
  })

  await test.step('finds it on the board in its place', async () => {
    await page.getByRole('navigation', { name: 'Shop' }).getByRole('link', { name: 'Board' }).click()
    await expect(page.getByRole('list', { name: 'Bikes, ordered by margin' })).toBeVisible()
    await workedOut(page)
    const margins = await figuresOf(page, 'Margin')
    expect(margins).toHaveLength(13)
    expect(margins.map(({ figure }) => figure)).toEqual(sorted(margins, -1))
    const place = margins.findIndex(({ name }) => name.includes(bike.model)) + 1
    expect(margins[place - 1]?.name).toBe(`${place}. ${bike.make} ${bike.model}, ${bike.year}`)

    await find(page, { search: 'kite07' })
    await expect(page.getByText('1 bike', { exact: true })).toBeVisible()
    await expect(
      page.getByRole('listitem').getByRole('heading', { name: `${place}. ${bike.make}` }),
    ).toBeVisible()

    await find(page, { search: '', by: 'Chance of loss' })
    await expect(page.getByRole('list', { name: 'Bikes, ordered by chance of loss' })).toBeVisible()
    const chances = await figuresOf(page, 'Chance of loss')
    expect(chances).toHaveLength(13)
    expect(chances.map(({ figure }) => figure)).toEqual(sorted(chances, 1))

    await find(page, { stage: 'Bought' })
    const bought = page.getByRole('article')
    await expect(bought.filter({ hasText: bike.model })).toHaveCount(1)
    expect(await bought.count()).toBeLessThan(7)
    await expect(bought.filter({ hasNotText: 'Bought' })).toHaveCount(0)
    await expectAccessible(page)

    await page.getByRole('link', { name: `${bike.make} ${bike.model}` }).click()
    await expect(page.getByText(`Viewing 14, stock 9, ${bike.plate}`)).toBeVisible()
  })
})

test('the short round leads from the first check to the last, and asks nothing twice', async ({
  page,
  context,
}) => {
  const viewing = await demo.takeIn({ make: 'Vantry', model: '650', plate: 'KITE 21' })
  await comeIn(context, demo.people.dealer, demo.url)
  await page.goto(`${demo.url}/bikes/${viewing}`)
  await page.getByRole('link', { name: 'Start the short round' }).click()
  await expect(page.getByRole('heading', { level: 1, name: 'Short round' })).toBeVisible()
  const head = page.locator('main header')
  const left = head.getByText(/^\d+ of \d+ checks to do$/)
  const all = Number(/^\d+/.exec((await left.textContent()) ?? '')?.[0])
  expect(all).toBeGreaterThanOrEqual(18)
  await expect(left).toHaveText(`${all} of ${all} checks to do`)
  await expect(head).toContainText(/Minutes left\s*1\d/)
  await expectAccessible(page, { bench: true })
  expect(await smallTargets(page, 56)).toEqual([])

  const title = page.getByRole('article').getByRole('heading', { level: 2 })
  const finished = page.getByRole('region', { name: 'Short round done' })
  const seen: string[] = []
  await test.step('each check in its turn, at the place where one stands', async () => {
    for (let turn = 0; turn < all; turn += 1) {
      const check = (await title.textContent()) ?? ''
      expect(seen).not.toContain(check)
      seen.push(check)
      const lacking = page.getByRole('group', { name: 'What must hold' }).getByRole('button')
      for (let lack = await lacking.count(); lack > 0; lack -= 1) await lacking.first().click()
      await recordGood(page, check)
      await expect(left).toHaveText(`${all - turn - 1} of ${all} checks to do`)
      const next = page.getByRole('button', { name: /^(Next|Only if the seller did it): / })
      if ((await title.textContent()) === check && turn < all - 1) await next.click()
      if (turn < all - 1) await expect(title).not.toHaveText(check)
    }
  })
  expect(new Set(seen).size).toBe(all)
  await expect(finished.getByRole('link', { name: 'Look at the deal' })).toBeVisible()
  await expect(page.getByText('All sent.')).toBeVisible()
  await expectAccessible(page, { bench: true })

  await test.step('what it answered is answered on the full sheet, and the other way round', async () => {
    await page.reload()
    await expect(finished).toBeVisible()
    await toPage(page, 'Checks')
    await expect(page.getByRole('link', { name: `Short round: all ${all} checks answered` })).toBeVisible()
    const { id } = (await demo.bikes()).find((bike) => bike.viewingNo === viewing)!
    expect(new Set((await demo.readings(id)).map(({ check }) => check)).size).toBe(all)
  })
})

/** What a sound bike gives: the first answer of a look, a plausible figure else. */
async function recordGood(page: Page, check: string): Promise<void> {
  const looks = page.getByRole('group', { name: 'What is it like?' })
  if (await looks.isVisible()) {
    await looks.getByRole('button').first().click()
    return
  }
  const speed = page.getByRole('textbox', { name: 'Engine speed' })
  const reading = page.getByRole('textbox', { name: /^Reading/ })
  if (await speed.isVisible()) {
    await speed.click()
    await tapNumber(page, '5000')
    await reading.click()
  }
  const figure = figures.find(([words]) => words.test(check))?.[1]
  if (figure === undefined) throw new Error(`No figure for "${check}".`)
  const places = await page.getByRole('group', { name: 'Where?' }).getByRole('radio').count()
  for (let place = 0; place < Math.max(1, places); place += 1) await record(page, figure)
}

const figures: readonly (readonly [RegExp, string])[] = [
  [/tread/i, '4.2'],
  [/date code/i, '0822'],
  [/chain/i, '1'],
  [/keys/i, '2'],
  [/distance/i, '27300'],
  [/volts at rest/i, '12.7'],
  [/charging volts/i, '14.2'],
  [/pads/i, '4.5'],
]

test.describe('a file that only calls itself a photo', () => {
  test.use({ provoked: [/status of 4\d\d/] })

  test('is refused in words, beside the one that is taken', async ({ page, context }) => {
    await comeIn(context, demo.people.dealer, demo.url)
    await page.goto(`${demo.url}/bikes/6`)
    await awake(page)
    await page.getByLabel('Add photos').setInputFiles([
      {
        name: 'drawing.jpg',
        mimeType: 'image/jpeg',
        buffer: Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>intruder = 1</script></svg>'),
      },
      {
        name: 'front.webp',
        mimeType: 'image/webp',
        buffer: await sharp({ create: { width: 64, height: 64, channels: 3, background: '#2f4b3a' } })
          .webp()
          .toBuffer(),
      },
    ])
    await expect(page.getByText(/^drawing\.jpg: This is not a photo that can be kept/)).toBeVisible()
    await expect(page.getByRole('img', { name: /^Photo of/ })).toHaveCount(1)
    await page.getByRole('button', { name: 'Leave drawing.jpg out' }).click()
    await expect(page.getByText('drawing.jpg')).toHaveCount(0)
  })
})

/** Good answers lead on by themselves, in the order of the round. */
const looks: readonly (readonly [check: string, answer: string])[] = [
  ['Fuel smell and leaks', 'Dry, no smell'],
  ['Stands safely', 'Steady'],
  ['Cylinders cold on arrival', 'Cold'],
  ['Front brake lever firm', 'Firm and stays'],
  ['Rear drum bites', 'Bites early, lets go'],
  ['Front brake dry at every joint', 'Dry, hoses sound'],
  ['Oil present, level right', 'Between the marks'],
  ['Oil smelt and looked at', 'Smells of oil'],
]

const treads: readonly (readonly [place: string, reading: string])[] = [
  ['Left of the middle', '4.2'],
  ['Middle', '4.0'],
  ['Right of the middle', '4.1'],
]

function tileOf(page: Page, question: string, answer: string): Locator {
  return page.getByRole('radiogroup', { name: question }).getByRole('radio', { name: answer })
}

async function toPage(page: Page, name: string): Promise<void> {
  const pages = page.getByRole('navigation', { name: 'This bike' })
  const link = pages.getByRole('link', { name, exact: true })
  await pages.getByRole('button', { name: 'Pages' }).click()
  const index = pages.locator('[popover]')
  await index.getByRole('link', { name, exact: true }).click()
  await expect(index).toBeHidden()
  await expect(link).toHaveAttribute('aria-current', 'page')
}

async function find(page: Page, asked: { search?: string; by?: string; stage?: string }): Promise<void> {
  const form = page.getByRole('form', { name: 'Board' })
  if (asked.search !== undefined) await form.getByRole('searchbox', { name: 'Find' }).fill(asked.search)
  if (asked.by) await form.getByRole('combobox', { name: 'Ordered by' }).selectOption(asked.by)
  if (asked.stage) await form.getByRole('combobox', { name: 'Stage' }).selectOption(asked.stage)
  await form.getByRole('button', { name: 'Show' }).click()
  await expect(page).toHaveURL(/[?&]search=/)
}

/** One figure of every bike on the board, from top to bottom, as it is written there. */
async function figuresOf(page: Page, label: string): Promise<{ name: string; figure: number }[]> {
  const figures: { name: string; figure: number }[] = []
  for (const line of await page.getByRole('article').all()) {
    const fact = line.getByRole('term').filter({ hasText: new RegExp(`^${label}$`) })
    const written = (await fact.locator('xpath=following-sibling::dd').textContent()) ?? ''
    const name = (await line.getByRole('heading').textContent()) ?? ''
    figures.push({ name, figure: Number(written.replace('−', '-').replace(/[^\d.-]/g, '')) })
  }
  return figures
}

function sorted(figures: readonly { figure: number }[], direction: 1 | -1): number[] {
  return figures.map(({ figure }) => figure).sort((a, b) => direction * (a - b))
}
