import { type BrowserContext, test as base, expect } from '@playwright/test'

type Watched = {
  /** What this test provokes on purpose and the browser will complain of. */
  provoked: RegExp[]
  /** Everything the browser complained of so far: scripts, styles and requests that went wrong. */
  complaints: string[]
}

/**
 * A test whose page is watched: an error in the console (which is also where a forbidden script or style shows),
 * an exception nobody caught, or a request that failed makes it fail, whatever else it looked at.
 */
export const test = base.extend<Watched>({
  provoked: [[], { option: true }],
  complaints: [
    async ({ context, provoked }, use) => {
      const complaints: string[] = []
      watch(context, complaints)
      await use(complaints)
      const unforeseen = complaints.filter((line) => !provoked.some((pattern) => pattern.test(line)))
      expect(unforeseen, 'complaints of the browser').toEqual([])
    },
    { auto: true },
  ],
})

/** Watches another browser too, as that of a second person. */
export function watch(context: BrowserContext, complaints: string[]): void {
  context.on('console', (message) => {
    if (message.type() === 'error') complaints.push(`console: ${message.text()} (${message.location().url})`)
  })
  context.on('weberror', (error) => complaints.push(`exception: ${error.error().message}`))
  context.on('requestfailed', (request) => {
    const why = request.failure()?.errorText ?? ''
    // A page that is left drops what it was still fetching ahead.
    if (why !== 'net::ERR_ABORTED') complaints.push(`request: ${request.url()} ${why}`)
  })
}

export { expect }
