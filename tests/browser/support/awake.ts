import type { Page } from '@playwright/test'

/**
 * Resolves once the page's script has taken over what the server drew: from then on no tap is lost. Needed after
 * a whole page was loaded and before something is tapped that does nothing without the script.
 */
export async function awake(page: Page): Promise<void> {
  await page.waitForFunction(() => Object.keys(document).some((key) => key.startsWith('__reactContainer$')))
}
