import type { Page } from '@playwright/test'

type Target = { what: string; width: number; height: number }

/**
 * What a finger can hit on the page and is smaller than `least` CSS pixels. A box to tick counts with its label.
 * A word inside a sentence may be as small as its sentence (WCAG 2.2, 2.5.8, "inline").
 */
export function smallTargets(page: Page, least: number): Promise<Target[]> {
  return page.getByRole('main').evaluate((main, least) => {
    const all = main.querySelectorAll<HTMLElement>('button, a[href], input, select, textarea, summary')
    const targets = [...all].flatMap((element) => {
      const isTick = element.matches('[type=radio], [type=checkbox], [type=file]')
      const hit = isTick ? element.closest('label') : element
      if (!hit?.checkVisibility({ visibilityProperty: true })) return []
      if (getComputedStyle(hit).display === 'inline' || hit.matches('.word-button')) return []
      const { width, height } = hit.getBoundingClientRect()
      const what = (element.getAttribute('aria-label') ?? hit.textContent ?? '').trim().slice(0, 60)
      return [{ what: `${element.tagName.toLowerCase()} ${what}`, width, height }]
    })
    // Heights come in fractions of a pixel.
    return targets.filter(({ width, height }) => width < least - 0.5 || height < least - 0.5)
  }, least)
}
