import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    globalSetup: 'tests/support/global-setup.ts',
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**', 'node_modules/**'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    pool: 'forks',
  },
})
