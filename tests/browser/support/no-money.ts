import { expect, type Page } from '@playwright/test'

/** Nothing on the page, nor in what it was drawn from, says what a bike costs or brings. */
export async function expectNoMoney(page: Page): Promise<void> {
  const text = await page.locator('body').textContent()
  expect(text).not.toMatch(/£|\bGBP\b|\b(asking|margin|price[sd]?|paid|profit|walk[- ]?away)\b/i)
}

const inData = /£|\bGBP\b|\b(asking|margin|price[sd]?|paid|profit|offered for|walk[- ]?away)\b|Minor"/i

/**
 * The bytes that leave the server for whoever has this cookie, as a page and as what a browser fetches to go from one
 * page to the next, hold no words of money, none of these amounts (in minor units) and nothing else that is private.
 */
export async function expectNoMoneySent(given: {
  pages: readonly string[]
  cookie: string
  amounts: readonly number[]
  private?: readonly string[]
}): Promise<void> {
  const { pages, cookie, amounts } = given
  const written = amounts.flatMap((minor) => [`${minor}`, (minor / 100).toLocaleString('en-GB')])
  for (const page of pages) {
    for (const way of [[], [['rsc', '1']]] as [string, string][][]) {
      const answer = await fetch(page, { headers: [['cookie', cookie], ...way] })
      const text = await answer.text()
      expect(answer.status, page).toBe(200)
      expect(inData.exec(text)?.[0], page).toBeUndefined()
      expect(
        [...written, ...(given.private ?? [])].filter((one) => text.includes(one)),
        page,
      ).toEqual([])
    }
  }
}
