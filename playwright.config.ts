import { defineConfig } from '@playwright/test'
import { browserSwitches, systemBrowser } from './lib/desk/browser.mjs'

const executablePath = systemBrowser()

/**
 * Each file is named for the size of screen its person works on: `technician.tablet.spec.ts`. Nothing is tried
 * twice: a test that only sometimes passes has found a fault.
 */
export default defineConfig({
  testDir: 'tests/browser',
  globalSetup: './tests/browser/support/global-setup.ts',
  // They would make every run change the checkout, so they are taken only when they are asked for.
  testIgnore: process.env.STAND_LEDGER_PICTURES === '1' ? [] : '**/pictures.*.spec.ts',
  outputDir: 'tests/browser/results',
  // Each file of tests has a server of its own, on a copy of the shop.
  workers: 2,
  retries: 0,
  forbidOnly: true,
  // Only what hangs is cut off: a machine that is shared may take several times as long as a quiet one.
  timeout: 300_000,
  expect: { timeout: 20_000 },
  use: {
    locale: 'en-GB',
    timezoneId: 'Europe/London',
    // Pages are kept in the background only where a test is about that: elsewhere it is work beside the work.
    serviceWorkers: 'block',
    // Keeping one slows a run by a fifth; `npx playwright test NAME --trace=retain-on-failure` keeps it.
    trace: 'off',
    screenshot: 'only-on-failure',
    actionTimeout: 15_000,
    launchOptions: { args: browserSwitches, ...(executablePath ? { executablePath } : {}) },
  },
  projects: [
    {
      name: 'tablet',
      testMatch: '**/*.tablet.spec.ts',
      use: { viewport: { width: 820, height: 1180 }, hasTouch: true },
    },
    {
      name: 'phone',
      testMatch: '**/*.phone.spec.ts',
      use: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true },
    },
    { name: 'desktop', testMatch: '**/*.desktop.spec.ts', use: { viewport: { width: 1280, height: 800 } } },
  ],
})
