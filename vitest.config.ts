import { defineConfig } from 'vitest/config'

export default defineConfig({
  // Where a command has a program and a module of one name (calc.mjs, calc.ts), a test means the module.
  resolve: { extensions: ['.ts', '.tsx', '.mts', '.mjs', '.js', '.jsx', '.json'] },
  test: {
    globalSetup: 'tests/support/global-setup.ts',
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**', 'node_modules/**'],
    // Only what hangs is cut off: a machine that is shared may take several times as long as a quiet one.
    testTimeout: 240_000,
    hookTimeout: 240_000,
    pool: 'forks',
    // Left to itself it leaves a core to the watcher that a run has not: half of a small machine.
    maxWorkers: '100%',
  },
})
