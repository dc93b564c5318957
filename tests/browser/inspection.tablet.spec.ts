import { expect, type Page } from '@playwright/test'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { fitsKind, usualKind } from '../../lib/core/checks/bike-kind'
import type { Check } from '../../lib/core/checks/catalogue'
import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { openCheck, openedCheck, openRound, record, tapNumber } from './support/sheet'
import { test } from './support/watched'

let demo: Demo

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

test('deep tread on a tyre of nineteen years, said to be of four', async ({ page, context }) => {
  const viewing = await demo.takeIn({ make: 'Mirefield', model: '500 twin', plate: 'KITE 31' })
  await comeIn(context, demo.people.technician, demo.url)
  await page.goto(`${demo.url}/bikes/${viewing}/checks?check=tread-rear`)
  await awake(page)
  for (const reading of ['5.1', '5.2', '5.1']) await record(page, reading)
  await openCheck(page, 'Rear tyre date code')
  await tapNumber(page, '2207')
  await expect(openedCheck(page)).toContainText(/Week 22 of 2007/)
  await page.getByRole('button', { name: 'Record', exact: true }).click()
  await expect(openedCheck(page)).toContainText('Outside')
  await expect(openedCheck(page)).toContainText(/over the guidance age of 10 years/)
  await expect(page.getByText('All sent.')).toBeVisible()

  await test.step('the page of a tyre tells both halves apart', async () => {
    await page.getByRole('link', { name: /in words/ }).click()
    await expect(page.getByRole('heading', { level: 1, name: 'Read a tyre' })).toBeVisible()
    await expect(page.getByRole('main')).toContainText('Week 22 of 2007')
    await expect(page.getByRole('main')).toContainText('week 7 of 2022')
    await expectAccessible(page, { bench: true })
    await page.getByRole('textbox', { name: 'Date code' }).fill('2222222')
    await page.getByRole('textbox', { name: 'Size, load and speed' }).fill('round')
    await page.getByRole('button', { name: 'Read it' }).click()
    await expect(page.getByRole('textbox', { name: 'Date code' })).toHaveAttribute('aria-invalid', 'true')
    await expect(page.getByRole('textbox', { name: 'Date code' })).toHaveValue('2222222')
    await expect(page.getByRole('textbox', { name: 'Size, load and speed' })).toHaveValue('round')
  })
})

test('a bike with a shaft has no chain to check, and its clock is noted as it stands', async ({
  page,
  context,
}) => {
  const viewing = await demo.takeIn({
    make: 'Orrest',
    model: '1100',
    plate: 'KITE 32',
    kind: { finalDrive: 'shaft' },
  })
  await comeIn(context, demo.people.technician, demo.url)
  await page.goto(`${demo.url}/bikes/${viewing}/checks?round=stand`)
  await awake(page)
  const all = page.getByRole('region', { name: /^All checks of the/ })
  await expect(all.getByRole('button', { name: /shaft/i }).first()).toBeVisible()
  await expect(all.getByRole('button', { name: /chain/i })).toHaveCount(0)
  await page.getByText(/more do not apply to this kind of bike/).click()
  await expect(page.getByText('Chain slack').first()).toBeVisible()
  await openRound(page, 'Cold')
  await openCheck(page, 'Distance on the clock')
  await tapNumber(page, '41200')
  await page.getByRole('button', { name: 'Record', exact: true }).click()
  await expect(page.getByRole('region', { name: 'Readings taken' })).toContainText('41200')
})

test('a whole bike, from the first check to the last', async ({ page, context }) => {
  test.setTimeout(600_000)
  const kind = { cooling: 'air', frontBrake: 'single-disc', rearBrake: 'drum', centreStand: 'no' } as const
  const viewing = await demo.takeIn({ make: 'Lindale', model: '450', plate: 'KITE 33', kind })
  await comeIn(context, demo.people.technician, demo.url)
  await page.goto(`${demo.url}/bikes/${viewing}/checks`)
  await awake(page)
  const whole = { ...usualKind, ...common, ...kind }
  const wanted = startingCatalogue.checks.filter((check) => fitsKind(whole, check.appliesTo))
  const heading = page.getByRole('article').getByRole('heading', { level: 2 })
  const onward = page.getByRole('button', { name: /^(Next|On to the .* round): / })
  const seen = new Set<string>()

  for (let step = 0; step < wanted.length; step += 1) {
    const title = (await heading.textContent()) ?? ''
    const round = await page
      .getByRole('navigation', { name: 'Rounds' })
      .locator('[aria-current=step]')
      .textContent()
    const check = wanted.find((one) => one.title === title && !seen.has(one.key) && inRound(one, round ?? ''))
    if (!check) throw new Error(`the sheet leads to "${title}" in ${round}`)
    seen.add(check.key)
    await fill(page, check)
    const left = wanted.filter(({ key }) => !seen.has(key))
    const next = left.find((one) => one.round === check.round) ?? left[0]
    if (!next) break
    if (next.round !== check.round) {
      // A round that is shut is not led into; what the seller did there is written down all the same.
      await openRound(
        page,
        next.round.replace(/^./, (first) => first.toUpperCase()),
      )
      continue
    }
    // What is plainly good leads on by itself; everything else offers the next.
    await expect
      .poll(async () => (await heading.textContent()) !== title || (await onward.count()) > 0, {
        message: `from "${title}" it goes on`,
      })
      .toBe(true)
    if ((await heading.textContent()) === title) await onward.first().click()
    await expect(heading).not.toHaveText(title)
  }
  await expect(page.getByText('All sent.')).toBeVisible({ timeout: 60_000 })
  await page.reload()
  await expect(page.getByRole('main')).toContainText(/Still to check\s*0/)
  const { id } = (await demo.bikes()).find((bike) => bike.viewingNo === viewing)!
  const kept = await demo.readings(id)
  expect(new Set(kept.map(({ check }) => check))).toEqual(new Set(wanted.map(({ key }) => key)))
})

const common = {
  finalDrive: 'chain',
  fuelling: 'carburettors',
  abs: 'no',
  wheels: 'cast',
  strokes: 'four',
} as const

function inRound(check: Check, words: string): boolean {
  return words.toLowerCase().includes(check.round)
}

/** What a bike that is neither new nor bad shows. */
async function fill(page: Page, check: Check): Promise<void> {
  const recordKey = page.getByRole('button', { name: 'Record', exact: true })
  switch (check.sort) {
    case 'look': {
      const good = check.answers.find(({ tone }) => tone === 'good')!
      const group = page.getByRole('group', { name: 'What is it like?' })
      await group.getByRole('button', { name: good.label, exact: true }).click()
      return
    }
    case 'measured': {
      if (check.needsEngineSpeed) {
        await page.getByRole('textbox', { name: 'Engine speed' }).click()
        await tapNumber(page, '5000')
        await page.getByRole('textbox', { name: /^Reading/ }).click()
      }
      for (const _ of check.positions.length > 0 ? check.positions : [null]) {
        await tapNumber(page, between(check))
        await recordKey.click()
      }
      return
    }
    case 'number':
      await tapNumber(page, check.key === 'distance-shown' ? '27310' : '2')
      await recordKey.click()
      return
    case 'code':
      if (check.code === 'done-on') {
        await page.getByRole('button', { name: /^Unknown/ }).click()
      } else if (check.code === 'tyre-date') {
        await tapNumber(page, '1224')
        await recordKey.click()
      } else {
        await page.getByRole('textbox', { name: /^Size/ }).fill('110/80-18 M/C 58H')
        await recordKey.click()
      }
  }
}

function between({ limit, plausible }: Extract<Check, { sort: 'measured' }>): string {
  const from = limit?.min ?? plausible.min
  const to = limit?.max ?? plausible.max
  return String(Math.round(((from + to) / 2) * 10) / 10)
}
