import type { Locator, Page } from '@playwright/test'
import { expectAccessible } from './support/accessible'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { forGloves, glove } from './support/gloves'
import { answer, openCheck, openedCheck, tapChoice } from './support/sheet'
import { smallTargets } from './support/targets'
import { expect, test, watch } from './support/watched'

let demo: Demo

test.beforeAll(async () => {
  demo = await startDemo()
})
test.afterAll(() => demo?.close())

function jobOf(page: Page, title: string): Locator {
  return page.getByRole('article').filter({ has: page.getByRole('heading', { level: 3, name: title }) })
}

/** Opens the form that starts a job from the list of what is to do. */
async function startForm(page: Page, title: string): Promise<Locator> {
  await jobOf(page, title).getByText('Start it', { exact: true }).click()
  return page.getByRole('form', { name: `Start ${title}` })
}

test('the technician drains the oil, and a colleague who wants to start it is told by whom and why not', async ({
  page,
  context,
  browser,
  complaints,
}) => {
  const viewing = await demo.tell({
    registration: 'KITE 51',
    happenings: [
      { daysAgo: 6, who: 'dealer', did: 'buy', price: '900' },
      { daysAgo: 5, who: 'manager', did: 'bench' },
      {
        daysAgo: 0.3,
        who: 'technician',
        did: 'check',
        rounds: ['cold'],
        found: [{ check: 'oil-smell', value: 'dirty' }],
      },
    ],
  })
  const bench = `${demo.url}/bikes/${viewing}/bench`
  const job = 'Oil and filter'
  await comeIn(context, demo.people.technician, demo.url)
  const colleague = await browser.newContext({ viewport: { width: 820, height: 1180 }, hasTouch: true })
  watch(colleague, complaints)
  await comeIn(colleague, demo.people.manager, demo.url)
  const theirs = await colleague.newPage()
  const openRunning = async () => {
    await theirs.goto(`${demo.url}/bikes/${viewing}/checks?round=running`)
    await awake(theirs)
  }
  const shut = theirs.getByRole('region', { name: 'The running round is shut' })
  const drained = shut.getByText('Oil drained: No oil in the engine. Do not start it.')

  await test.step('the job is started, and the oil is said to be out', async () => {
    await page.goto(bench)
    await awake(page)
    const form = await startForm(page, job)
    await expect(form.getByRole('checkbox', { name: /^Oil drained/ })).toBeChecked()
    await forGloves(page)
    await form.getByRole('button', { name: `Start: ${job}` }).click()
    await expect(page.getByText('At it: Wyn.')).toBeVisible()
    await expect(page.getByRole('region', { name: 'Open on this bike' })).toContainText('Oil drained')
    await forGloves(page)
  })

  await test.step('a tag for the ignition says it in a sentence', async () => {
    await page.getByRole('link', { name: 'Tag for the ignition' }).click()
    const tag = page.getByRole('article', { name: 'The tag' })
    await expect(tag).toContainText('Do not start')
    await expect(tag).toContainText('No oil in the engine. Do not start it.')
    await expect(tag).toContainText('KITE 51')
    await expect(tag).toContainText('Wyn')
    await forGloves(page)
    await page.getByRole('link', { name: 'Back to the bench' }).click()
    await expect(page.getByRole('heading', { level: 2, name: 'Under way' })).toBeVisible()
  })

  await test.step('the colleague finds the running round shut, and why', async () => {
    await openRunning()
    await expect(drained).toBeVisible()
    await expect(shut).toContainText(/Since .*, Wyn\./)
    const link = shut.getByRole('link', { name: 'Put it back' })
    await expect(link).toHaveAttribute('href', `/bikes/${viewing}/bench#open`)
    await expect(
      shut
        .getByRole('listitem')
        .filter({ has: drained })
        .getByText(/with a reason/),
    ).toHaveCount(0)
    await openCheck(theirs, 'Cold start')
    await expect(openedCheck(theirs)).toContainText('How to do it is held back while this round is shut.')
    await expectAccessible(theirs, { bench: true })
    expect(await smallTargets(theirs, glove)).toEqual([])
  })

  await test.step('what the seller did is still written down', async () => {
    await tapChoice(theirs, 'Seen, the seller did it')
    await tapChoice(theirs, 'Engine cold')
    await answer(theirs, 'Starts soon and settles')
    await expect(theirs.getByText('All sent.')).toBeVisible()
    await openCheck(theirs, 'Cold start')
    await expect(theirs.getByRole('region', { name: 'Readings taken' })).toContainText(
      'Seen, the seller did it',
    )
  })

  await test.step('the work is paused, goes on, and is finished with its minutes', async () => {
    await page.getByRole('button', { name: 'Pause', exact: true }).click()
    await expect(page.getByText('Paused. Nobody is at it.')).toBeVisible()
    await page.getByRole('button', { name: 'Go on', exact: true }).click()
    await expect(page.getByText('At it: Wyn.')).toBeVisible()
    await page.getByText('It is done', { exact: true }).click()
    const form = page.getByRole('form', { name: `Finish ${job}` })
    await expect(form).toContainText('Caution: Still open')
    await form.getByRole('textbox', { name: /^Minutes it took in all/ }).fill('a while')
    await form.getByRole('button', { name: 'Finish it' }).click()
    await expect(form.getByRole('textbox', { name: /^Minutes/ })).toHaveAccessibleDescription(/like 90/)
    await form.getByRole('textbox', { name: /^Minutes/ }).fill('35')
    await form.getByRole('button', { name: 'Finish it' }).click()
    await expect(page.getByRole('heading', { level: 2, name: 'Under way' })).toHaveCount(0)
  })

  const done = page.getByRole('listitem').filter({ has: page.getByRole('heading', { level: 3, name: job }) })

  await test.step('a job done closes neither its fault nor what it left open', async () => {
    await expect(done).toContainText(/35\smin, Wyn/)
    await expect(done).toContainText('Done, waits for its recheck:')
    await expect(done).toContainText('Not put back: Oil drained.')
    await forGloves(page)
    await openRunning()
    await expect(drained).toBeVisible()
  })

  await test.step('put back, only with the tick, ends it', async () => {
    const form = page.getByRole('form', { name: 'Put back: Oil drained' })
    await form.getByRole('button', { name: 'Put back' }).click()
    await expect(form.getByRole('alert')).toContainText('Tick that it is in order')
    await expectAccessible(page, { bench: true })
    await tapChoice(page, 'Drain plug in and torqued')
    await form.getByRole('button', { name: 'Put back' }).click()
    await expect(page.getByRole('region', { name: 'Open on this bike' })).toHaveCount(0)
    await openRunning()
    await expect(theirs.getByRole('navigation', { name: 'Rounds' })).toBeVisible()
    await expect(theirs.getByText('Oil drained')).toHaveCount(0)
    // What was read of the oil before the work says nothing of the oil now.
    await expect(shut).toContainText('Oil smelt and looked at')
  })

  await test.step('the recheck closes the fault', async () => {
    await done.getByRole('link', { name: 'Oil smelt and looked at' }).click()
    await awake(page)
    const again = page.getByRole('button', { name: 'Check again' })
    await expect(page.getByRole('heading', { level: 2, name: 'Oil smelt and looked at' })).toBeVisible()
    if (await again.isVisible()) await again.click()
    await answer(page, 'Smells of oil')
    await expect(page.getByText('All sent.')).toBeVisible()
    await page.goto(bench)
    await expect(done).toContainText('Done, and proven by its recheck.')
    await expect(jobOf(page, job)).toHaveCount(0)
    await page.goto(`${demo.url}/bikes/${viewing}`)
    await expect(page.getByRole('main')).not.toContainText('Oil black or gritty')
    await forGloves(page)
  })
  await colleague.close()
})

test('petrol in the oil locks the engine, no typed reason opens it, and the work with its recheck does', async ({
  page,
  context,
  browser,
  complaints,
}) => {
  const viewing = await demo.tell({
    registration: 'KITE 52',
    nonRunner: true,
    happenings: [
      { daysAgo: 6, who: 'dealer', did: 'buy', price: '480' },
      { daysAgo: 5, who: 'manager', did: 'bench' },
      { daysAgo: 0.3, who: 'technician', did: 'check', rounds: ['cold'] },
    ],
  })
  const job = 'Petrol drained, cylinders cleared by hand, fresh oil'
  const at = `${demo.url}/bikes/${viewing}`
  await comeIn(context, demo.people.technician, demo.url)
  const office = await browser.newContext({ viewport: { width: 820, height: 1180 }, hasTouch: true })
  watch(office, complaints)
  await comeIn(office, demo.people.manager, demo.url)
  const theirs = await office.newPage()
  const shut = theirs.getByRole('region', { name: 'The running round is shut' })
  const lock = shut.getByRole('listitem').filter({ hasText: 'Petrol in the oil' })
  const openRunning = async () => {
    await theirs.goto(`${at}/checks?round=running`)
    await awake(theirs)
  }

  await test.step('the oil smells of petrol', async () => {
    await page.goto(`${at}/checks?check=oil-smell`)
    await awake(page)
    await page.getByRole('button', { name: 'Check again' }).click()
    await answer(page, 'Smells of petrol or runs thin')
    await expect(openedCheck(page)).toContainText('Petrol in the oil')
    await expect(page.getByText('All sent.')).toBeVisible()
    await forGloves(page)
  })

  await test.step('a manager is offered no reason for it', async () => {
    await openRunning()
    await expect(lock).toContainText('Only this opens it')
    await expect(lock.getByText(/Open it with a reason/)).toHaveCount(0)
    await expectAccessible(theirs, { bench: true })
  })

  await test.step('the work alone leaves it locked', async () => {
    await page.goto(`${at}/bench`)
    await awake(page)
    const form = await startForm(page, job)
    await form.getByRole('button', { name: `Start: ${job}` }).click()
    await page.getByText('It is done', { exact: true }).click()
    const finish = page.getByRole('form', { name: `Finish ${job}` })
    await finish.getByRole('textbox', { name: /^Minutes/ }).fill('85')
    await finish.getByRole('button', { name: 'Finish it' }).click()
    await expect(page.getByText('Done, waits for its recheck:')).toBeVisible()
    const back = page.getByRole('form', { name: 'Put back: Oil drained' })
    await back.getByText('Drain plug in and torqued').click()
    await back.getByRole('button', { name: 'Put back' }).click()
    await expect(back).toHaveCount(0)
    await forGloves(page)
    await openRunning()
    await expect(lock).toBeVisible()
  })

  await test.step('the recheck opens that lock', async () => {
    for (const [check, words] of [
      ['oil-smell', 'Smells of oil'],
      ['oil-level', 'Between the marks'],
    ] as const) {
      await page.goto(`${at}/checks?check=${check}`)
      await awake(page)
      const again = page.getByRole('button', { name: 'Check again' })
      if (await again.isVisible()) await again.click()
      await answer(page, words)
      await expect(page.getByText('All sent.')).toBeVisible()
    }
    await openRunning()
    await expect(theirs.getByRole('navigation', { name: 'Rounds' })).toBeVisible()
    await expect(lock).toHaveCount(0)
  })
  await office.close()
})

test('opened and worse: the bike waits, the manager sees the money and stops it, the bench reads no price', async ({
  page,
  context,
  browser,
  complaints,
}) => {
  const viewing = await demo.tell({
    registration: 'KITE 53',
    happenings: [
      { daysAgo: 6, who: 'dealer', did: 'buy', price: '900' },
      { daysAgo: 5, who: 'manager', did: 'bench' },
      {
        daysAgo: 0.3,
        who: 'technician',
        did: 'check',
        rounds: ['cold'],
        found: [{ check: 'oil-smell', value: 'dirty' }],
      },
      { daysAgo: 0.05, who: 'technician', did: 'start', job: 'valve-clearances', budgetHours: '2.5' },
    ],
  })
  const at = `${demo.url}/bikes/${viewing}`
  await comeIn(context, demo.people.technician, demo.url)
  await page.goto(`${at}/bench`)
  await awake(page)

  await test.step('what was found goes before the manager, with what is undone', async () => {
    await page.getByText('It is worse: ask the manager', { exact: true }).click()
    const form = page.getByRole('form', { name: /^Ask the manager about / })
    await form.getByRole('textbox', { name: /^More hours/ }).fill('7')
    await form.getByRole('textbox', { name: /^What is undone/ }).fill('Tank and valve cover off')
    await form.getByRole('textbox', { name: /^Where parts/ }).fill('Box 7')
    await form.getByRole('button', { name: 'Ask the manager' }).click()
    await expect(form.getByRole('textbox', { name: /^What was found/ })).toHaveAccessibleDescription(
      /Say what was found/,
    )
    await expect(form.getByRole('textbox', { name: /^Where parts/ })).toHaveValue('Box 7')
    await form.getByRole('textbox', { name: /^What was found/ }).fill('Cams scored. New ones, or stop?')
    await form.getByRole('button', { name: 'Ask the manager' }).click()
  })

  await test.step('the bike waits, and nobody starts anything on it', async () => {
    await expect(page.getByRole('heading', { name: 'Waits for the manager’s answer' })).toBeVisible()
    const question = page.locator('#question')
    await expect(question).toContainText('Cams scored. New ones, or stop?')
    await expect(question).toContainText('Tank and valve cover off')
    await expect(question).toContainText('Box 7')
    await expect(page.getByText('Nobody works on this bike until the manager has answered.')).toBeVisible()
    await expect(page.getByText('Paused. Nobody is at it.')).toBeVisible()
    await expect(page.getByText('Start it', { exact: true })).toHaveCount(0)
    await expect(page.getByRole('button', { name: 'Go on', exact: true })).toHaveCount(0)
    await forGloves(page)
  })

  await test.step('the manager sees the money before and after, and stops it', async () => {
    const office = await browser.newContext()
    watch(office, complaints)
    await comeIn(office, demo.people.manager, demo.url)
    const theirs = await office.newPage()
    await theirs.goto(`${demo.url}/queue`)
    await awake(theirs)
    const entry = theirs.getByRole('listitem').filter({ hasText: 'Cams scored. New ones, or stop?' })
    const [spend, margin] = await Promise.all(
      ['Still to spend', 'Expected margin'].map((row) => ofRow(entry, row)),
    )
    expect(spend?.[1]).toBeGreaterThan(spend?.[0] ?? Number.POSITIVE_INFINITY)
    expect(margin?.[1]).toBeLessThan(margin?.[0] ?? Number.NEGATIVE_INFINITY)
    await expectAccessible(theirs)
    await entry.getByRole('radio', { name: /^Stop/ }).check()
    await entry.getByRole('textbox', { name: /^A word to the bench/ }).fill('Close it up and leave it.')
    await entry.getByRole('button', { name: 'Send the answer' }).click()
    await expect(entry).toHaveCount(0)
    await office.close()
  })

  await test.step('the bench reads the answer, and no price', async () => {
    await page.reload()
    await expect(page.getByRole('heading', { name: 'What the manager answered' })).toBeVisible()
    const answered = page.locator('#question')
    await expect(answered).toContainText('Stop.')
    await expect(answered).toContainText('Close it up and leave it.')
    await expect(answered).toContainText('Maren')
    await forGloves(page)
  })
})

/** The two amounts of a row, without what was found and with it. */
async function ofRow(entry: Locator, name: string): Promise<number[]> {
  const cells = await entry.getByRole('row').filter({ hasText: name }).getByRole('cell').allTextContents()
  return cells.map((cell) => Number(cell.replaceAll('\u2212', '-').replace(/[^\d.-]/g, '')))
}
