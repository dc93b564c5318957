import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { currentBuild } from '../../lib/desk/build.mjs'
import { mayDo, type Role } from '../../lib/shop/who-may'
import { type Page, pages } from '../../lib/web/pages'
import { type Demo, startDemo } from '../browser/support/demo'
import type { DemoBike, SignedIn } from '../browser/support/people'
import { root } from '../browser/support/server'

/*
 * Every page of the built server, for every bike of the invented shop, as the bytes that leave it: as a page and
 * as what a browser fetches to go from one page to the next.
 */

const built = currentBuild(root) !== null
if (!built) console.warn('The pages are not read for money: there is no build. `npm test` makes one.')

const ways = [
  ['as a page', {}],
  ['as it is fetched from another page', { rsc: '1' }],
] as const

const addresses = Object.keys(pages) as Page[]
const isFor = (role: Role) => (page: Page) => {
  const verb = pages[page]
  return verb === 'anyone' || mayDo([role], verb)
}
const forTechnicians = addresses.filter(isFor('technician'))
/** The one page of offers that a seller is shown as well. */
const sheetPage = '/bikes/[bike]/offer'
const notForTechnicians = addresses.filter((page) => !isFor('technician')(page))

/** The words of money. They are explained on one page for everybody, and stand on no other of a technician's. */
const moneyWords = /£|\bGBP\b|\b(asking|margin|price[sd]?|paid|profit|offered for|walk[- ]?away)\b|Minor"/i

describe.skipIf(!built)('money of a bike', () => {
  let demo: Demo
  let bikes: DemoBike[]

  beforeAll(async () => {
    demo = await startDemo()
    bikes = await demo.bikes()
  })
  afterAll(() => demo?.close())

  /** The address for each bike; one where the page is about none. */
  const everyAddress = (page: Page) =>
    page.includes('[bike]') ? bikes.map(({ viewingNo }) => page.replace('[bike]', `${viewingNo}`)) : [page]

  async function read(who: SignedIn, path: string, headers: object) {
    const answer = await fetch(demo.url + path, { headers: { cookie: who.cookie, ...headers } })
    return { status: answer.status, text: await answer.text() }
  }

  it('is there to be found: each bike has amounts, and they differ from bike to bike', () => {
    expect(bikes.length).toBeGreaterThanOrEqual(6)
    for (const { amounts } of bikes) expect(amounts.length).toBeGreaterThanOrEqual(8)
  })

  describe.each(ways)('%s', (_way, headers) => {
    it.each(forTechnicians)('leaves no trace on %s for a technician', async (page) => {
      const { technician } = demo.people
      for (const path of everyAddress(page)) {
        const { status, text } = await read(technician, path, headers)
        expect(status, path).toBe(200)
        expect(amountsIn(withoutNumbersOfEntries(text), bikes), path).toEqual([])
        if (page !== '/words') expect(moneyWords.exec(text)?.[0], path).toBeUndefined()
      }
    })

    it.each(notForTechnicians)('is on a page that a technician is told not to exist: %s', async (page) => {
      const { technician } = demo.people
      for (const path of everyAddress(page)) {
        const { status, text } = await read(technician, path, headers)
        // A page fetched from another says so in its text: the answer as such is whole.
        if ('rsc' in headers) expect(text, path).toContain('HTTP_ERROR_FALLBACK;404')
        else expect(status, path).toBe(404)
        expect(amountsIn(text, bikes), path).toEqual([])
      }
    })

    it("leaves no trace on any page on the seller's side, but for the figures of his own sheet", async () => {
      const seen = await demo.onSellerSide('Maren')
      for (const page of forTechnicians) {
        for (const path of everyAddress(page)) {
          const { status, text } = await read(seen, path, headers)
          expect(status, path).toBe(200)
          expect(amountsIn(withoutNumbersOfEntries(text), bikes), path).toEqual([])
          if (page !== '/words') expect(moneyWords.exec(text)?.[0], path).toBeUndefined()
        }
      }
      for (const page of notForTechnicians.filter((page) => page !== sheetPage))
        for (const path of everyAddress(page)) {
          const { text } = await read(seen, path, headers)
          expect(amountsIn(text, bikes), path).toEqual([])
        }
      for (const path of everyAddress(sheetPage)) {
        const { status, text } = await read(seen, path, headers)
        expect(status, path).toBe(200)
        const bike = bikes.find(({ viewingNo }) => path === `/bikes/${viewingNo}/offer`)!
        const others = bikes.filter((one) => one !== bike)
        const shopsOwn = { ...bike, amounts: bike.amounts.filter((minor) => !bike.offered.includes(minor)) }
        expect(amountsIn(text, [...others, shopsOwn]), path).toEqual([])
        expect(
          /\b(asking|margin|profit|walk[- ]?away|(?<!--)target)\b/i.exec(text)?.[0],
          path,
        ).toBeUndefined()
      }
    })

    it('is kept by no browser once the page is left', async () => {
      for (const path of ['/board', '/bikes/1', '/bikes/1/deal', '/bikes/1/work', '/bikes/1/offer']) {
        const { cookie } = demo.people.manager
        const answer = await fetch(demo.url + path, { headers: { cookie, ...headers } })
        await answer.arrayBuffer()
        expect(answer.headers.get('cache-control'), path).toContain('no-store')
      }
    })

    it('is found by the same search on what a dealer is sent', async () => {
      const { dealer } = demo.people
      for (const bike of bikes) {
        const texts = await Promise.all(
          ['', '/work', '/deal', '/edit'].map((part) =>
            read(dealer, `/bikes/${bike.viewingNo}${part}`, headers),
          ),
        )
        const whole = texts.map(({ text }) => text).join('\n')
        const stored = bike.amounts.slice(0, bike.storedCount)
        expect(
          stored.filter((amount) => amountsIn(whole, [{ ...bike, amounts: [amount] }]).length === 0),
        ).toEqual([])
        expect(moneyWords.test(whole)).toBe(true)
      }
      const { text } = await read(dealer, '/board', headers)
      const onBoard = bikes.filter(({ stage }) => stage !== 'passed up')
      for (const bike of onBoard) expect(amountsIn(text, [bike]), bike.name).not.toEqual([])
    })
  })
})

/** Amounts of bikes that stand in a text, in any way the program or a person would write them. */
function amountsIn(text: string, bikes: readonly DemoBike[]): string[] {
  return bikes.flatMap(({ name, amounts }) =>
    amounts.flatMap((minor) =>
      waysToWrite(minor)
        .filter((written) => standsAlone(text, written))
        .map((written) => `${name}: ${written}`),
    ),
  )
}

/** The entries of a bike's story are numbered through; such a number may be the same as an amount. */
function withoutNumbersOfEntries(text: string): string {
  const numbers = new Set([...text.matchAll(/\bentry\D{1,12}(\d+)/g)].map(([, number]) => number!))
  return text.replace(/(?<![\w.,-])\d+(?![\w-]|[.,]\d)/g, (number) => (numbers.has(number) ? '' : number))
}

/** Figures that the checks hold themselves, such as the most a gauge can show: no check holds an amount. */
const inChecks = new Set(JSON.stringify(startingCatalogue.checks).match(/\d+(\.\d+)?/g))

/**
 * Minor units as data, major units plain, with two decimals, and with thousands parted. Shorter ones are left
 * out where a year, a size or a count could be written the same, and what is below ten with its decimals, which
 * reads like hours or millimetres.
 */
function waysToWrite(minor: number): string[] {
  const known = written.get(minor)
  if (known) return known
  const major = Math.abs(minor) / 100
  const whole = String(Math.round(major))
  const parted = wholeNumbers.format(major)
  const years = /^(19|20)\d\d$/
  const exact = major < 10 ? '' : major.toFixed(2)
  const ways = [String(Math.abs(minor)), exact, parted, whole, `£${whole}`, `£${parted}`]
  const kept = [...new Set(ways)].filter((way) => way.length >= 4 && !years.test(way) && !inChecks.has(way))
  written.set(minor, kept)
  return kept
}

const wholeNumbers = new Intl.NumberFormat('en-GB', { maximumFractionDigits: 0 })
const written = new Map<number, string[]>()

/** Not as a part of a longer number, an id or a name. */
function standsAlone(text: string, written: string): boolean {
  // Most stand nowhere in it: that is seen many times sooner without the pattern.
  if (!text.includes(written)) return false
  const escaped = written.replace(/[.$]/g, '\\$&')
  return new RegExp(`(?<![\\w.,-])${escaped}(?![\\w-]|[.,]\\d)`).test(text)
}
