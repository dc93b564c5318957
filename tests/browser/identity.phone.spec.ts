import type { Page } from '@playwright/test'
import { registers } from '../../lib/core/checks/money-gate'
import type { Happening } from '../../lib/desk/demo/story'
import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { commonKind, type Demo, startDemo } from './support/demo'
import { forGloves, glove } from './support/gloves'
import { expectNoMoney, expectNoMoneySent } from './support/no-money'
import { noteDown, sendNote } from './support/note-down'
import { sendPlainForm } from './support/plain-form'
import { answer, openedCheck, tapChoice } from './support/sheet'
import { smallTargets } from './support/targets'
import { expect, test, watch } from './support/watched'

let demo: Demo

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

/** An invented bike of four cylinders. */
const brannock = {
  ...{ make: 'Brannock', model: '900', year: 1998, distance: '34120', asking: '1700' },
  sale: ['2600', '2900', '3200'] as const,
  kind: { ...commonKind, cooling: 'liquid', frontBrake: 'twin-disc', rearBrake: 'disc' } as const,
}

test('warm on arrival: the cold start is not judged, a refusal keeps its risk in sight, and a noise shuts nothing', async ({
  page,
  context,
}) => {
  const shortRound = (except: readonly string[]): Happening[] => [
    { daysAgo: 0.02, who: 'dealer', did: 'check', rounds: ['cold', 'stand', 'running'], short: true, except },
  ]
  const happenings = shortRound(['cylinders-cold', 'cold-start', 'oil-smoke'])
  const viewing = await demo.tell({ ...brannock, registration: 'KITE 61', happenings })
  const waited = await demo.tell({ ...brannock, registration: 'KITE 60', happenings: shortRound([]) })
  const at = `${demo.url}/bikes/${viewing}`
  await comeIn(context, demo.people.dealer, demo.url)
  const title = openedCheck(page).getByRole('heading', { level: 2 })
  const engineCold = page.getByRole('checkbox', { name: 'Engine cold' })

  await test.step('a warm cylinder takes back that the engine is cold', async () => {
    await page.goto(`${at}/checks/short`)
    await awake(page)
    await expect(title).toHaveText('Cylinders cold on arrival')
    await tapChoice(page, 'Engine cold')
    await expect(engineCold).toBeChecked()
    await answer(page, 'Warm')
    await expect(engineCold).not.toBeChecked()
    await page.getByRole('button', { name: /: Cold start$/ }).click()
    await expect(title).toHaveText('Cold start')
    await expect(openedCheck(page)).toContainText('Judged only if this holds')
  })

  await test.step('what it did warm is kept and not judged', async () => {
    await answer(page, 'Starts soon and settles')
    await expect(openedCheck(page)).toContainText('Not judged')
    await expect(openedCheck(page)).toContainText('it has to be done cold')
  })

  await test.step('the seller refuses to wait, and that stands in the place of the answer', async () => {
    await openedCheck(page).getByText('Not checked, because …').click()
    await expectAccessible(page, { bench: true })
    expect(await smallTargets(page, glove)).toEqual([])
    await page.getByRole('button', { name: 'Leave it out' }).click()
    const own = page.getByRole('textbox', { name: 'Another reason' })
    await expect(own).toHaveAccessibleDescription('Say why, in a few words.')
    await own.fill('Seller refused to wait')
    await page.getByRole('button', { name: 'Leave it out' }).click()
    await page.getByRole('button', { name: /: Blue smoke$/ }).click()
    await expect(title).toHaveText('Blue smoke')
    await openedCheck(page).getByText('Not checked, because …').click()
    await page.getByRole('button', { name: 'Engine was already warm' }).click()
    await expect(page.getByRole('region', { name: 'Short round done' })).toBeVisible()
    await expect(page.getByText('All sent.')).toBeVisible()
    await page.goto(`${at}/checks?check=cold-start`)
    await expect(openedCheck(page)).toContainText('Not checked')
    await expect(openedCheck(page)).toContainText('Seller refused to wait')
  })

  await test.step('the clutch basket is a noise: it pays or it does not, and it shuts no round', async () => {
    const locksNow = () =>
      page
        .getByRole('region', { name: /^The running round/ })
        .getByRole('listitem')
        .allTextContents()
    await page.goto(`${at}/checks?check=clutch-noise`)
    await awake(page)
    const before = await locksNow()
    await tapChoice(page, 'Seen, the seller did it')
    await answer(page, 'Rattles, quiet with the lever in')
    await expect(openedCheck(page)).toContainText('Clutch basket rattles at idle.')
    await expect(openedCheck(page)).toContainText(/Pays\s*Clutch basket/)
    await expect(openedCheck(page).getByText(/The .*round (is|are) shut\./)).toHaveCount(0)
    await expect(page.getByText('All sent.')).toBeVisible()
    expect(await locksNow()).toEqual(before)
  })

  await test.step('where the dealer reads risk, smoke is likelier than on the same bike started cold', async () => {
    const refused = await riskOf(page, viewing)
    const seen = await riskOf(page, waited)
    expect(refused.smoke).toBeGreaterThan(seen.smoke)
    expect(refused.unseen).toBeGreaterThan(seen.unseen)
    await page.goto(`${at}/work`)
    const left = page.getByRole('listitem').filter({
      has: page.getByRole('heading', { name: 'Clutch basket rattles at idle' }),
    })
    await expect(left.first()).toContainText('Pays')
    await page.goto(`${at}/story`)
    await expect(page.getByText('Cold start: left out. Seller refused to wait.')).toBeVisible()
  })
})

/** The chance of burnt oil on the page of work, and what unseen faults cost on the page of the deal. */
async function riskOf(page: Page, viewing: number): Promise<{ smoke: number; unseen: number }> {
  await page.goto(`${demo.url}/bikes/${viewing}/work`)
  await page.getByText(/nobody has ruled out$/).click()
  const chance = page
    .getByRole('row', { name: /^Burns oil/ })
    .getByRole('cell')
    .first()
  const smoke = figureIn(await chance.textContent())
  await page.goto(`${demo.url}/bikes/${viewing}/deal`)
  const sum = /expected to cost £([\d,]+)/.exec((await page.getByRole('main').textContent()) ?? '')?.[1]
  return { smoke, unseen: figureIn(sum) }
}

function figureIn(text: string | null | undefined): number {
  return Number((text ?? '').replace(/[^\d.]/g, '') || Number.NaN)
}

test('a bike is ridden once nothing lacks and its papers are noted, and the distance it brings back is kept', async ({
  page,
  context,
}) => {
  const viewing = await demo.tell({
    registration: 'KITE 63',
    sellerName: 'Orla Pennant',
    asking: '1873.40',
    sale: ['2187.10', '2391.30', '2590.70'],
    happenings: [
      { daysAgo: 6, who: 'dealer', did: 'buy', price: '1643.65' },
      { daysAgo: 5, who: 'manager', did: 'bench' },
      ...figuresOfItsSheet,
      {
        daysAgo: 0.2,
        who: 'technician',
        did: 'check',
        rounds: ['cold', 'stand', 'running'],
        except: ['front-brake-lever', 'kill-switch'],
      },
    ],
  })
  const at = `${demo.url}/bikes/${viewing}`
  await comeIn(context, demo.people.technician, demo.url)

  await test.step('what lacks is named, and each is a tap away', async () => {
    await page.goto(`${at}/rides`)
    const shut = page.getByRole('region', { name: 'The road is shut' })
    await expect(page.getByRole('form', { name: 'Out', exact: true })).toHaveCount(0)
    await shut.getByText('2 checks to do first').click()
    await expect(shut.getByRole('listitem').filter({ hasText: 'Front brake lever firm' })).toContainText(
      'Not checked.',
    )
    await forGloves(page)
    await shut.getByRole('link', { name: 'Front brake lever firm' }).click()
    await awake(page)
    await answer(page, 'Firm and stays')
    await expect(page.getByText('All sent.')).toBeVisible()
    await page.goto(`${at}/rides`)
    await page.getByRole('link', { name: 'Check: Kill switch' }).click()
    await awake(page)
    await answer(page, 'Stops the engine')
    await expect(page.getByText('All sent.')).toBeVisible()
  })

  const out = page.getByRole('form', { name: 'Out', exact: true })

  await test.step('it does not go out before licence and cover are seen, nor with less on the clock unsaid', async () => {
    await page.goto(`${at}/rides`)
    await awake(page)
    await page.getByRole('link', { name: 'Note a ride' }).click()
    await expect(out.getByRole('textbox', { name: 'Who rides' })).toHaveValue('Wyn')
    await expect(out.getByRole('textbox', { name: 'Plates on it' })).toHaveValue('KITE 63')
    await out.getByRole('radio', { name: /^A buyer rides/ }).check()
    await out.getByRole('textbox', { name: 'On the clock' }).fill('26,300')
    await out.getByRole('button', { name: 'Out now' }).click()
    await expect(out.getByRole('textbox', { name: 'Licence seen' })).toHaveAccessibleDescription(
      /Say which licence was seen/,
    )
    await expect(out.getByRole('textbox', { name: 'Cover' })).toHaveAccessibleDescription(
      /Say what insures this rider/,
    )
    await expect(out.getByRole('radio', { name: /^A buyer rides/ })).toBeChecked()
    await out.getByRole('textbox', { name: 'Licence seen' }).fill('Full, any motorcycle, card in hand')
    await out.getByRole('textbox', { name: 'Cover' }).fill('Trade policy, buyer named')
    await out.getByRole('button', { name: 'Out now' }).click()
    await expect(out.getByRole('textbox', { name: 'Who rides' })).toHaveAccessibleDescription(
      /Give the name of the buyer/,
    )
    await out.getByRole('textbox', { name: 'Who rides' }).fill('Tamsin, a buyer')
    await out.getByRole('textbox', { name: 'What is held meanwhile' }).fill('Keys of the car')
    await expect(out.getByRole('checkbox', { name: /does show less/ })).toHaveCount(0)
    await out.getByRole('button', { name: 'Out now' }).click()
    await expect(out.getByRole('textbox', { name: 'On the clock' })).toHaveAccessibleDescription(
      /It showed 27300 mi before\. Read the clock again/,
    )
    await expect(out.getByRole('checkbox', { name: /does show less/ })).not.toBeChecked()
    await forGloves(page)
    await out.getByRole('textbox', { name: 'On the clock' }).fill('27,301.5')
    await out.getByRole('button', { name: 'Out now' }).click()
  })

  await test.step('while it is out it says who has it since when, and nobody can take it out again', async () => {
    const head = page.locator('main > header')
    await expect(head).toContainText(/Out since\s*\d\d:\d\d/)
    await expect(head).toContainText('Tamsin, a buyer')
    await expect(out).toHaveCount(0)
    await expect(page.getByRole('main')).toContainText('Licence: Full, any motorcycle, card in hand.')
    await expect(page.getByRole('main')).toContainText('Plates: KITE 63. Held: Keys of the car.')
    await forGloves(page)
  })

  await test.step('back in, the road round is next', async () => {
    const back = page.getByRole('form', { name: 'In', exact: true })
    const clock = back.getByRole('textbox', { name: 'On the clock' })
    await clock.fill('27,31')
    await back.getByRole('button', { name: 'In now' }).click()
    await expect(clock).toHaveAccessibleDescription(/It went out at 27301.5 mi/)
    await expect(clock).toHaveValue('27,31')
    await clock.fill('27,314')
    await back.getByRole('textbox', { name: 'Note' }).fill('Pulls to the left')
    await back.getByRole('button', { name: 'In now' }).click()
    await expect(page).toHaveURL(`${at}/checks?round=road`)
    await expect(
      page.getByRole('navigation', { name: 'Rounds' }).getByRole('button', { name: 'Road' }),
    ).toHaveAttribute('aria-current', 'step')
    await expect(page.getByRole('region', { name: 'The road round is shut' })).toHaveCount(0)
  })

  await test.step('it stands among the rides, the distances and in the story', async () => {
    await page.goto(`${at}/rides`)
    const ride = page.getByRole('listitem').filter({ hasText: 'A buyer rides: Tamsin, a buyer' })
    await expect(ride).toContainText('12.5 mi')
    await expect(ride).toContainText('Pulls to the left')
    await forGloves(page)
    await page.goto(`${at}/identity`)
    await expect(page.getByRole('listitem').filter({ hasText: 'back from a ride' })).toContainText(
      '27,314 miles',
    )
    await expect(page.locator('main > header')).toContainText('Distance proven')
    await forGloves(page)
    await page.goto(`${at}/story`)
    await expect(page.getByText(/^Out for a ride \(buyer\) by Tamsin, a buyer at 27301\.5 mi/)).toContainText(
      'held: Keys of the car.',
    )
    await expect(page.getByText(/^Back from a ride by Tamsin, a buyer at 27314 mi/)).toContainText(
      'Pulls to the left',
    )
    await expectNoMoney(page)
  })

  await expectNoMoneySent({
    pages: ['', '/rides', '/identity', '/story', '/checks'].map((part) => at + part),
    cookie: demo.people.technician.cookie,
    amounts: [164_365, 187_340, 218_710, 239_130, 259_070],
    private: ['Orla Pennant'],
  })
})

test('money owed and a write-off: the gate says no in words, nobody buys it by any way, and it is passed up', async ({
  page,
  context,
  browser,
  complaints,
}) => {
  const viewing = await demo.tell({
    ...{ make: 'Lindale', model: '650', year: 2004, registration: 'KITE 62', sellerName: 'Orla Pennant' },
    ...{ distance: '17890', asking: '1500', sale: ['2350', '2600', '2850'] },
    happenings: [
      { daysAgo: 0.1, who: 'dealer', did: 'register', register: 'stolen', answer: 'clear' },
      { daysAgo: 0.1, who: 'dealer', did: 'register', register: 'recall', answer: 'clear' },
      ...sellerAndNumbersSeen,
    ],
  })
  const other = await demo.tell({ registration: 'KITE 64', happenings: nothingAgainst })
  const at = `${demo.url}/bikes/${viewing}`
  const head = page.locator('main > header')
  const against = page.getByRole('region', { name: 'Not to be bought as it stands' })
  const onlyWay = 'Finance is on record: only paying the lender direct, with the letter seen, settles it.'
  await comeIn(context, demo.people.dealer, demo.url)

  await test.step('two registers are left, and what one knows is not written down without words and amount', async () => {
    await page.goto(`${at}/identity`)
    await awake(page)
    await expect(head).toContainText('2 things missing')
    const finance = page.getByRole('form', { name: 'Answer on finance outstanding' })
    const asked = { 'Asked of': 'The register, by its own web form' }
    await sendNote(page, 'Answer on finance outstanding', asked, /^On record/)
    await expect(finance.getByRole('textbox', { name: 'What is on record' })).toHaveAccessibleDescription(
      /Say what is on record/,
    )
    const agreement = { 'What is on record': 'Agreement of last year, lender named' }
    await sendNote(page, 'Answer on finance outstanding', agreement, /^On record/)
    await expect(finance.getByRole('textbox', { name: 'Amount outstanding' })).toHaveAccessibleDescription(
      /Give the amount/,
    )
    await noteDown(page, 'Answer on finance outstanding', { 'Amount outstanding': '2,140' }, /^On record/)
    const written = { ...asked, 'What is on record': 'Structural damage, two years ago' }
    await noteDown(page, 'Answer on written-off vehicles', written, /^On record/)
  })

  await test.step('the gate says in words that it may not be bought as it stands', async () => {
    await expect(head).toContainText('Not as it stands')
    await expect(against).toContainText(onlyWay)
    await expect(page.getByRole('region', { name: 'Register of finance outstanding' })).toContainText(
      'On record, £2,140 outstanding',
    )
    await expect(page.getByRole('region', { name: 'Register of written-off vehicles' })).toContainText(
      'Structural damage, two years ago',
    )
    await expectAccessible(page)
  })

  await test.step('buying is not offered, and refused where it is posted all the same', async () => {
    await page.goto(at)
    await page.getByText('It is bought', { exact: true }).click()
    const goOn = page.getByRole('region', { name: 'Go on with this bike' })
    await expect(goOn).toContainText('It may not be bought as it stands.')
    await expect(page.getByRole('form', { name: 'Bought' })).toHaveCount(0)
    await expect(page.getByRole('main')).toContainText('Write-off on record')
    const bike = (await demo.bikes()).find(({ viewingNo }) => viewingNo === viewing)!
    const sent = await sendPlainForm({
      page: `${demo.url}/bikes/${other}`,
      form: 'Bought',
      cookie: demo.people.dealer.cookie,
      fields: { bike: bike.id, version: `${bike.version}`, price: '1400', day: '2026-01-05' },
    })
    expect(/It may (?:not )?be bought[^<&]*/.exec(sent.text)?.[0]).toBe(
      `It may not be bought as it stands. ${onlyWay}`,
    )
    expect((await demo.bikes()).find(({ id }) => id === bike.id)).toMatchObject({ stage: 'viewing' })
    await goOn.getByRole('link', { name: onlyWay }).click()
    await expect(page).toHaveURL(`${at}/identity#point-finance`)
  })

  await test.step('only the lender paid direct, with the letter seen, opens it', async () => {
    await awake(page)
    const name = 'How the finance is settled'
    const form = page.getByRole('form', { name, exact: true })
    await sendNote(page, name, {}, /^Lender paid direct, letter seen/)
    await expect(form.getByRole('textbox', { name: 'What was seen' })).toHaveAccessibleDescription(
      /Say what was seen as proof/,
    )
    await expect(form.getByRole('radio')).toHaveCount(2)
    await expect(head).toContainText('Not as it stands')
    const letter = { 'What was seen': 'Letter of the lender: nothing owed once paid' }
    await noteDown(page, name, letter, /^Lender paid direct, letter seen/)
    await expect(head).toContainText('May be bought')
    await sendNote(page, name, { 'What was seen': 'Nothing was paid after all' }, 'Outstanding')
    await expect(head).toContainText('Not as it stands')
  })

  await test.step('a paper that says more than the clock makes the distance not proven, wherever it stands', async () => {
    await page.getByText('Add a dated distance', { exact: true }).click()
    const form = page.getByRole('form', { name: 'Add a distance' })
    await form.getByLabel('Day').fill('2024-05-14')
    await form.getByRole('textbox', { name: 'Distance' }).fill('23,410')
    await form.getByRole('combobox', { name: 'Where it stands' }).selectOption('An inspection paper')
    await form.getByRole('button', { name: 'Add it' }).click()
    const distance = page.locator('#distance')
    await expect(distance).toContainText('Distance not proven')
    await expect(distance).toContainText(/17,890 miles on .* is below 23,410 miles on 14 May 2024\./)
    await expect(distance.getByRole('listitem').filter({ hasText: 'when it was taken in' })).toContainText(
      'Falls below an earlier one',
    )
    await expectAccessible(page)
    await page.goto(at)
    await expect(page.getByText('17,890 miles, distance not proven')).toBeVisible()
  })

  await test.step('it is passed up, with the reason', async () => {
    await page.locator('summary').filter({ hasText: 'Pass it up' }).click()
    const form = page.getByRole('form', { name: 'Pass up' })
    await form.getByRole('button', { name: 'Pass it up' }).click()
    await expect(form.getByRole('textbox', { name: 'Why' })).toHaveAttribute('aria-invalid', 'true')
    await form.getByRole('textbox', { name: 'Why' }).fill('More is owed on it than it is worth to us')
    await form.getByRole('button', { name: 'Pass it up' }).click()
    await expect(page.getByRole('region', { name: 'Go on with this bike' })).toHaveCount(0)
    await expect(head).toContainText('Passed up')
    await page.goto(`${at}/story`)
    await expect(page.getByText('Passed up: More is owed on it than it is worth to us.')).toBeVisible()
  })

  await test.step('the technician reads that the distance is not proven, and nothing of money or seller', async () => {
    const bench = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true })
    watch(bench, complaints)
    await comeIn(bench, demo.people.technician, demo.url)
    const theirs = await bench.newPage()
    await theirs.goto(`${at}/identity`)
    await expect(theirs.locator('main > header')).toContainText('Distance not proven')
    await forGloves(theirs)
    await bench.close()
    await expectNoMoneySent({
      pages: ['', '/identity', '/story'].map((part) => at + part),
      cookie: demo.people.technician.cookie,
      amounts: [214_000, 150_000, 235_000, 260_000, 285_000],
      private: ['Orla Pennant', 'lender', 'worth to us'],
    })
  })
})

test('an altered frame number leaves no way through, even to who has the form of buying open', async ({
  page,
  context,
  browser,
  complaints,
}) => {
  const viewing = await demo.tell({ registration: 'KITE 65', happenings: nothingAgainst })
  const at = `${demo.url}/bikes/${viewing}`
  await comeIn(context, demo.people.dealer, demo.url)
  await page.goto(at)
  await awake(page)
  await page.getByText('It is bought', { exact: true }).click()
  const form = page.getByRole('form', { name: 'Bought' })
  await form.getByRole('textbox', { name: 'Price paid' }).fill('1100')

  await test.step('a colleague sees the number stamped over', async () => {
    const office = await browser.newContext({ viewport: { width: 390, height: 844 }, hasTouch: true })
    watch(office, complaints)
    await comeIn(office, demo.people.manager, demo.url)
    const theirs = await office.newPage()
    await theirs.goto(`${at}/identity`)
    await awake(theirs)
    await expect(theirs.locator('main > header')).toContainText('May be bought')
    const seen = { 'What was seen': 'Two signs stamped over others' }
    await sendNote(theirs, 'Frame number on frame, plate and paper', seen, /^Altered, ground or stamped over/)
    await expect(theirs.getByText('There is no way to buy this bike')).toBeVisible()
    await expect(
      theirs.getByRole('form', { name: 'Frame number on frame, plate and paper', exact: true }),
    ).toHaveCount(0)
    await expect(theirs.locator('main > header')).toContainText('May never be bought')
    await expectAccessible(theirs)
    await office.close()
  })

  await test.step('the form that was open is refused, and what was typed stays', async () => {
    await form.getByRole('button', { name: /^Buy it/ }).click()
    await expect(form.getByRole('alert')).toContainText('This bike may never be bought.')
    await expect(form.getByRole('textbox', { name: 'Price paid' })).toHaveValue('1100')
    await page.reload()
    await awake(page)
    await page.getByText('It is bought', { exact: true }).click()
    await expect(form).toHaveCount(0)
    await expect(page.getByRole('region', { name: 'Go on with this bike' })).toContainText(
      'This bike may never be bought.',
    )
    expect((await demo.bikes()).find(({ viewingNo }) => viewingNo === viewing)).toMatchObject({
      stage: 'viewing',
    })
  })
})

const sellerAndNumbersSeen: Happening[] = (
  [
    ['seller-identity', 'seen'],
    ['right-to-sell', 'keeper-and-payee'],
    ['frame-number', 'same'],
    ['keys', 'counted'],
  ] as const
).map(([point, answer]) => ({ daysAgo: 0.1, who: 'dealer', did: 'identity', point, answer }))

/** Everything that must be known before money is paid, and all of it good. */
const nothingAgainst: Happening[] = [
  ...registers.map(
    (register): Happening => ({ daysAgo: 0.1, who: 'dealer', did: 'register', register, answer: 'clear' }),
  ),
  ...sellerAndNumbersSeen,
]

/** What is stamped on parts and stickers, so that a sound bike can be told from one that is not judged. */
const figuresOfItsSheet: Happening[] = [
  limitOf(['disc-front'], { min: '4.5', asNew: '5', unit: 'mm', note: 'MIN TH 4.5' }),
  limitOf(['chain-slack'], { min: '30', max: '40', unit: 'mm', note: 'sticker on the swing arm' }),
  limitOf(['tyre-pressure-front', 'tyre-pressure-rear'], {
    ...{ min: '230', max: '290', unit: 'kPa', note: 'sticker on the tail' },
  }),
]

function limitOf(checks: readonly string[], limit: Extract<Happening, { did: 'limit' }>['limit']): Happening {
  return { daysAgo: 0.3, who: 'technician', did: 'limit', checks, limit }
}
