import type { Page } from '@playwright/test'
import type { Happening } from '../../lib/desk/demo/story'
import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { expectNoMoney, expectNoMoneySent } from './support/no-money'
import { answer } from './support/sheet'
import { smallTargets } from './support/targets'
import { expect, test } from './support/watched'

let demo: Demo

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

/** 3.5 rem: what a thumb in a glove hits. */
const glove = 56

/** A page of the technician: no money, nothing small, nothing hard to read. */
async function forGloves(page: Page): Promise<void> {
  await expectNoMoney(page)
  await expectAccessible(page, { bench: true })
  expect(await smallTargets(page, glove)).toEqual([])
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
    await out.getByRole('textbox', { name: 'Who rides' }).fill('Tamsin, a buyer')
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
    await expect(out.getByRole('textbox', { name: 'What is held meanwhile' })).toHaveAccessibleDescription(
      /Say what you hold/,
    )
    await out.getByRole('textbox', { name: 'What is held meanwhile' }).fill('Keys of the car')
    await expect(out.getByRole('checkbox', { name: /does show less/ })).toHaveCount(0)
    await out.getByRole('button', { name: 'Out now' }).click()
    await expect(out.getByRole('textbox', { name: 'On the clock' })).toHaveAccessibleDescription(
      /It was 27300 mi on .*Read the clock again/,
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
