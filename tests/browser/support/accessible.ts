import AxeBuilder from '@axe-core/playwright'
import { expect, type Page } from '@playwright/test'

const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']

/**
 * What axe finds against WCAG 2.2 A and AA on the page as it stands; `bench` asks for the stronger contrast of
 * AAA as well, for screens that are read in bad light.
 */
export async function expectAccessible(page: Page, { bench = false } = {}): Promise<void> {
  // The title streams in behind the page: before it is there nobody has come to the page yet.
  await expect(page).toHaveTitle(/\S/)
  const { violations } = await new AxeBuilder({ page })
    .options({
      runOnly: { type: 'tag', values: tags },
      rules: { 'color-contrast-enhanced': { enabled: bench } },
    })
    .analyze()
  const found = violations.map(({ id, nodes }) => ({
    rule: id,
    at: nodes.map(({ target, failureSummary }) => `${target.join(' ')}: ${failureSummary}`),
  }))
  expect(found, 'rules of accessibility broken').toEqual([])
}
