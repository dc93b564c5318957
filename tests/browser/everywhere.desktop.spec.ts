import type { Page } from '@playwright/test'
import type { Role } from '../../lib/shop/who-may'
import { expectAccessible } from './support/accessible'
import { openTo } from './support/addresses'
import { awake } from './support/awake'
import { comeIn } from './support/come-in'
import { type Demo, startDemo } from './support/demo'
import { crowdedTargets, smallTargets } from './support/targets'
import { expect, test, watch } from './support/watched'

// They only look, so they need not wait for each other: this file alone is a third of all.
test.describe.configure({ mode: 'parallel' })

let demo: Demo
let supplier: string

test.beforeAll(async () => {
  demo = await startDemo()
  supplier = await demo.supplier('Oxtarn Parts')
})
test.afterAll(() => demo?.close())

/** Pages that read the same for everybody: the technician's terms are the stricter ones, so they are held to those. */
const sameForAll: readonly string[] = [
  '/bikes/[bike]/checks',
  '/bikes/[bike]/checks/short',
  '/bikes/[bike]/tag',
  '/bikes/[bike]/photos/marks',
  '/device',
  '/tyres',
  '/words',
  '/settings/limits/model',
]
/** What a manager sees otherwise than a dealer, of the pages that both may open. */
const otherForManager: readonly string[] = [
  '/board',
  '/bikes/[bike]',
  '/bikes/[bike]/bench',
  '/bikes/[bike]/deal',
]

const forTechnician = openTo(['technician'])
const forDealer = openTo(['dealer'])
/** The manager of the demo deals as well, so he may open everything. Each page is looked at once for each way it reads. */
const people = [
  { role: 'technician', pages: forTechnician, bench: true, least: 56 },
  {
    role: 'dealer',
    pages: forDealer.filter((address) => !sameForAll.includes(address)),
    bench: false,
    least: 44,
  },
  {
    role: 'manager',
    pages: openTo(['manager', 'dealer']).filter(
      (address) => !forDealer.includes(address) || otherForManager.includes(address),
    ),
    bench: false,
    least: 44,
  },
] as const satisfies readonly { role: Role; pages: readonly string[]; bench: boolean; least: number }[]

test('every page that anybody may open is looked at by somebody', () => {
  const looked = new Set(people.flatMap(({ pages }) => pages))
  expect(openTo(['technician', 'dealer', 'manager']).filter((one) => !looked.has(one))).toEqual([])
})

/** One of each where an address has places to fill; parts are got for a bike that is bought. */
const placeOf = (address: string) =>
  address
    .replace('[bike]/parts', '4/parts')
    .replace('[bike]', '5')
    .replace('[supplier]', supplier)
    .replace('[kind]', 'checks')
    .replace('[entry]', 'fuel-leaks')

/** A desk, a telephone held upright, and a desk at 400 % (WCAG 2.2, 1.4.10: 320 CSS pixels wide). */
const desk = { width: 1280, height: 800 }
const narrow = [390, 320] as const

for (const { role, pages, bench, least } of people) {
  test.describe(role, () => {
    // One browser for all pages of a person: what it has fetched and read of our scripts it need not fetch again.
    let page: Page
    const complaints: string[] = []
    test.beforeAll(async ({ browser }) => {
      const context = await browser.newContext()
      watch(context, complaints)
      await comeIn(context, demo.people[role], demo.url)
      page = await context.newPage()
    })
    test.afterAll(() => page?.context().close())
    test.afterEach(() => {
      expect(complaints.splice(0), 'complaints of the browser').toEqual([])
    })

    for (const address of pages.filter((one) => one !== '/')) {
      test(`${address} is for everybody who may see it, whatever they see it with (${role})`, async () => {
        await page.setViewportSize(desk)
        await page.goto(demo.url + placeOf(address))
        await expect(page.getByRole('heading', { level: 1 })).toHaveCount(1)
        await expect(page).toHaveTitle(/^\S.* · Stand & Ledger$/)
        await awake(page)
        expect(await tooWide(page), 'too wide for a desk').toEqual([])
        await openLines(page, { most: 12 })
        await expectAccessible(page, { bench })
        for (const width of narrow) {
          await page.setViewportSize({ width, height: 640 })
          expect(await tooWide(page), `too wide for ${width} pixels`).toEqual([])
        }
        expect(await smallTargets(page, least), 'too small to hit').toEqual([])
        if (bench) {
          for (const width of [320, 820]) {
            await page.setViewportSize({ width, height: 1180 })
            expect(await crowdedTargets(page, 8), `too close to one another at ${width} pixels`).toEqual([])
          }
        }
      })
    }
  })
}

for (const address of ['/sign-in', '/back-in']) {
  test(`${address} is for everybody, whatever they see it with`, async ({ page }) => {
    await page.goto(demo.url + address)
    await expect(page.getByRole('heading', { level: 1 })).toHaveCount(1)
    await expectAccessible(page)
    await page.setViewportSize({ width: 320, height: 640 })
    expect(await tooWide(page)).toEqual([])
  })
}

const byKeyboard = [
  { role: 'technician', address: '/bikes' },
  { role: 'technician', address: '/bikes/5/checks' },
  { role: 'dealer', address: '/bikes/new' },
  { role: 'dealer', address: '/bikes/5/deal' },
  { role: 'manager', address: '/board' },
  { role: 'manager', address: '/bikes/5/work' },
  { role: 'manager', address: '/settings' },
] as const

for (const { role, address } of byKeyboard) {
  test(`${address} can be used with a keyboard alone, and shows where one is (${role})`, async ({
    page,
    context,
  }) => {
    await comeIn(context, demo.people[role], demo.url)
    await page.goto(demo.url + address)
    await awake(page)
    await page.keyboard.press('Tab')
    await expect(page.getByRole('link', { name: 'Skip to the page' })).toBeFocused()
    const { reached, unseen } = await tabThrough(page)
    expect(unseen, 'focused and not shown to be').toEqual([])
    expect(await notReached(page, reached), 'cannot be reached with Tab').toEqual([])
  })
}

const pagesOfBike = {
  technician: ['Bike', 'Story', 'Short round', 'Checks', 'Distance', 'Bench', 'Parts', 'Rides'],
  manager: [
    'Bike',
    'Story',
    'Short round',
    'Checks',
    'Identity',
    'Bench',
    'Parts',
    'Rides',
    'Work',
    'Deal',
    'Prices',
    'Offer',
  ],
} as const

for (const role of ['technician', 'manager'] as const) {
  test.describe('without scripts', () => {
    test.use({ javaScriptEnabled: false, provoked: [/\/_next\/static\/.*\.js csp$/] })

    test(`the pages of a bike stand in one line, and a phone has them all behind one key (${role})`, async ({
      page,
      context,
    }) => {
      await comeIn(context, demo.people[role], demo.url)
      const pages = page.getByRole('navigation', { name: 'This bike' })
      const more = pages.getByRole('button', { name: 'Pages' })
      for (const width of [320, 390, 820, 1280]) {
        await page.setViewportSize({ width, height: 844 })
        for (const [address, open] of [
          ['checks/short', 'Short round'],
          ['bench', 'Bench'],
          ['story', 'Story'],
        ] as const) {
          await page.goto(`${demo.url}/bikes/5/${address}`)
          await expect(pages.getByRole('link', { name: open, exact: true })).toHaveAttribute(
            'aria-current',
            'page',
          )
          const { height } = (await pages.boundingBox())!
          expect(height, `${address} at ${width} pixels`).toBeLessThan(2 * 44)
        }
      }
      await expect(more).toBeHidden()

      await page.setViewportSize({ width: 390, height: 844 })
      await more.focus()
      await page.keyboard.press('Enter')
      const index = pages.locator('[popover]')
      await expect(index.getByRole('link')).toHaveText([...pagesOfBike[role]])
      await page.keyboard.press('Escape')
      await expect(index).toBeHidden()
      await page.keyboard.press('Enter')
      await page.keyboard.press('Tab')
      await page.keyboard.press('Tab')
      await page.keyboard.press('Enter')
      await expect(page).toHaveURL(/\/bikes\/5\/story$/)
    })
  })
}

test('all pages of a bike, opened on a phone, are for everybody and big enough for gloves', async ({
  page,
  context,
}) => {
  await page.setViewportSize({ width: 390, height: 844 })
  await comeIn(context, demo.people.technician, demo.url)
  await page.goto(`${demo.url}/bikes/5/rides`)
  await awake(page)
  await page.getByRole('button', { name: 'Pages' }).click()
  await expect(page.getByRole('list', { name: 'Put it right' }).getByRole('link')).toHaveText([
    'Bench',
    'Parts',
    'Rides',
  ])
  await expectAccessible(page, { bench: true })
  expect(await smallTargets(page, 56)).toEqual([])
})

test('a line opens and a word explains itself by keyboard, and Escape closes it', async ({
  page,
  context,
}) => {
  await comeIn(context, demo.people.manager, demo.url)
  await page.goto(`${demo.url}/queue`)
  await awake(page)
  const word = page.getByRole('button', { name: /^bench hour/ }).first()
  await word.focus()
  await page.keyboard.press('Enter')
  const note = page.getByRole('note').filter({ hasText: /hour/ })
  await expect(note).toBeVisible()
  await expectAccessible(page)
  await page.keyboard.press('Escape')
  await expect(note).toBeHidden()
  await expect(word).toBeFocused()
})

test('nothing moves for those who asked for stillness', async ({ page, context }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await comeIn(context, demo.people.manager, demo.url)
  for (const address of ['/board', '/bikes/5/work', '/bikes/5/checks']) {
    await page.goto(demo.url + address)
    const moving = await page.evaluate(
      () =>
        [...document.querySelectorAll('*')].filter((element) => {
          const { animationDuration, transitionDuration } = getComputedStyle(element)
          return [animationDuration, transitionDuration].some((time) => Number.parseFloat(time) > 0.001)
        }).length,
    )
    expect(moving, address).toBe(0)
  }
})

const onPaper = [
  { role: 'technician', address: '/bikes/4/checks', says: /Check sheet: .*Ostrel 750/ },
  { role: 'technician', address: '/bikes/4', says: /Ostrel 750/ },
  { role: 'dealer', address: '/bikes/5', says: /Calder 600 four/ },
  { role: 'dealer', address: '/bikes/5/work', says: /What is wrong/ },
  { role: 'dealer', address: '/bikes/5/deal', says: /From sale price to margin/ },
  { role: 'manager', address: '/board', says: /Ostrel 750/ },
  { role: 'manager', address: '/queue', says: /Bench hours/ },
] as const

for (const { role, address, says } of onPaper) {
  test(`${address} prints what it says and nothing to press (${role})`, async ({ page, context }) => {
    await comeIn(context, demo.people[role], demo.url)
    await page.goto(demo.url + address)
    await awake(page)
    await page.emulateMedia({ media: 'print' })
    await expect(page.getByText(says).first()).toBeVisible()
    // A word that explains itself stays, as the word it is.
    const buttons = page.getByRole('button').filter({ hasNotText: '(what is this?)' })
    for (const part of [page.getByRole('navigation'), buttons, page.getByRole('textbox')]) {
      await expect(part).toHaveCount(0)
    }
    // A4 less its margins, at 96 pixels an inch.
    await page.setViewportSize({ width: 680, height: 1000 })
    expect(await tooWide(page)).toEqual([])
    const pdf = await page.pdf({ format: 'A4' })
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-')
  })
}

/** What sticks out of the page to the right, where the page can be moved sideways at all. */
function tooWide(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const { scrollWidth, clientWidth } = document.documentElement
    if (scrollWidth <= clientWidth) return []
    const out = [...document.querySelectorAll('body *')].filter(
      (element) => element.getBoundingClientRect().right > clientWidth + 0.5,
    )
    return out.map(
      (element) =>
        `${element.tagName.toLowerCase()}.${element.className}: ${element.textContent?.slice(0, 40)}`,
    )
  })
}

/** Opens lines that open, those that say something new first; what some of them hold is made only then. */
async function openLines(page: Page, given: { most: number }): Promise<void> {
  await page.evaluate(async ({ most }) => {
    const lines = [...document.querySelectorAll('details')]
    const said = (line: Element) => line.querySelector('summary')?.textContent
    const first = lines.filter((line, no) => lines.findIndex((other) => said(other) === said(line)) === no)
    for (const line of [...new Set([...first, ...lines])].slice(0, most)) line.open = true
    for (let frame = 0; frame < 3; frame += 1) await new Promise(requestAnimationFrame)
  }, given)
}

/** Presses Tab until the focus leaves the page; says where it came by and where that could not be seen. */
async function tabThrough(page: Page): Promise<{ reached: number[]; unseen: string[] }> {
  const reached: number[] = []
  const unseen: string[] = []
  for (;;) {
    const at = await page.evaluate(() => {
      const focused = document.activeElement
      if (!(focused instanceof HTMLElement) || focused === document.body) return null
      const no = [...document.querySelectorAll('*')].indexOf(focused)
      const label = focused.closest('label')
      const shown = [focused, ...(label ? [label] : [])].some((element) => {
        const { outlineStyle, outlineWidth } = getComputedStyle(element)
        return outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2
      })
      const { top, bottom } = focused.getBoundingClientRect()
      const inView = bottom > 0 && top < window.innerHeight
      return { no, seen: shown && inView, what: focused.outerHTML.slice(0, 120) }
    })
    // A date holds the focus for several keys, one for each of its parts.
    const stays = at !== null && at.no === reached.at(-1)
    if (at === null || (!stays && reached.includes(at.no))) return { reached, unseen }
    if (!stays) reached.push(at.no)
    if (!at.seen && !stays) unseen.push(at.what)
    await page.keyboard.press('Tab')
  }
}

/** Buttons, links, fields and lines to open that Tab did not come by. Of a group of radios one is enough. */
function notReached(page: Page, reached: readonly number[]): Promise<string[]> {
  return page.evaluate((numbers) => {
    const all = [...document.querySelectorAll('*')]
    const came = new Set(numbers.map((no) => all[no]))
    const groups = new Set(
      [...came].flatMap((element) =>
        element instanceof HTMLInputElement && element.type === 'radio' ? [element.name] : [],
      ),
    )
    const usable = document.querySelectorAll<HTMLElement>('button, a[href], input, select, textarea, summary')
    return [...usable]
      .filter((element) => element.checkVisibility({ visibilityProperty: true }) && !came.has(element))
      .filter(
        (element) =>
          !(element instanceof HTMLInputElement && (element.type === 'hidden' || groups.has(element.name))),
      )
      .map((element) => element.outerHTML.slice(0, 120))
  }, reached)
}
