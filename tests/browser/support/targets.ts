import type { Page } from '@playwright/test'

type Target = { what: string; left: number; top: number; width: number; height: number }

/**
 * What a finger can hit on the page and is smaller than `least` CSS pixels. A box to tick counts with its label.
 * A word inside a sentence may be as small as its sentence (WCAG 2.2, 2.5.8, "inline").
 */
export async function smallTargets(page: Page, least: number) {
  const targets = await targetsOf(page)
  // Heights come in fractions of a pixel.
  return targets
    .filter(({ width, height }) => width < least - 0.5 || height < least - 0.5)
    .map(({ what, width, height }) => ({ what, width, height }))
}

/** Pairs of what a finger can hit with less than `least` CSS pixels between them. One inside the other is one. */
export async function crowdedTargets(page: Page, least: number): Promise<string[]> {
  const targets = await targetsOf(page)
  return targets.flatMap((one, no) =>
    targets.slice(no + 1).flatMap((other) => {
      const aside = Math.max(other.left - (one.left + one.width), one.left - (other.left + other.width))
      const above = Math.max(other.top - (one.top + one.height), one.top - (other.top + other.height))
      const apart = Math.max(aside, above)
      const within =
        aside <= -Math.min(one.width, other.width) + 1 && above <= -Math.min(one.height, other.height) + 1
      return within || apart >= least - 0.5 ? [] : [`${one.what} | ${other.what}: ${Math.round(apart)}`]
    }),
  )
}

function targetsOf(page: Page): Promise<Target[]> {
  return page.getByRole('main').evaluate((main) => {
    // While a dialog is open nothing beside it can be hit.
    const open = document.querySelector('dialog:modal') ?? main
    const all = open.querySelectorAll<HTMLElement>('button, a[href], input, select, textarea, summary')
    return [...all].flatMap((element) => {
      const isTick = element.matches('[type=radio], [type=checkbox], [type=file]')
      const hit = isTick ? element.closest('label') : element
      if (!hit?.checkVisibility({ visibilityProperty: true })) return []
      if (getComputedStyle(hit).display === 'inline' || hit.matches('.word-button')) return []
      const { left, top, width, height } = hit.getBoundingClientRect()
      const what = (element.getAttribute('aria-label') ?? hit.textContent ?? '').trim().slice(0, 60)
      return [{ what: `${element.tagName.toLowerCase()} ${what}`, left, top, width, height }]
    })
  })
}
