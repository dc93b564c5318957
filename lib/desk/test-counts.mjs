/** @typedef {{ passed: number, failed: number, skipped: number }} Counts */
/** @typedef {{ code: number, report: any }} Outcome a test program's exit code and its JSON report, or null */

/**
 * Counts of a vitest run. A file that could not be loaded holds no tests, so it is counted itself.
 *
 * @param {Outcome} outcome
 * @returns {Counts}
 */
export function vitestCounts({ code, report }) {
  if (report === null) return nothingRan
  const unloaded = report.testResults.filter(
    (file) => file.status === 'failed' && !file.assertionResults.some((test) => test.status === 'failed'),
  ).length
  return honest(code, {
    passed: report.numPassedTests,
    failed: report.numFailedTests + unloaded,
    skipped: report.numPendingTests + report.numTodoTests,
  })
}

/**
 * Counts of a Playwright run. One that passed only when tried again did not pass.
 *
 * @param {Outcome} outcome
 * @returns {Counts}
 */
export function playwrightCounts({ code, report }) {
  if (report === null) return nothingRan
  const { expected, unexpected, flaky, skipped } = report.stats
  return honest(code, { passed: expected, failed: unexpected + flaky, skipped })
}

/** @param {readonly Counts[]} all @returns {Counts} */
export function sumOf(all) {
  const add = (/** @type {keyof Counts} */ key) => all.reduce((sum, counts) => sum + counts[key], 0)
  return { passed: add('passed'), failed: add('failed'), skipped: add('skipped') }
}

/** @param {Counts} counts */
export function lastLine({ passed, failed }) {
  return `${passed} passed, ${failed} failed`
}

const nothingRan = Object.freeze({ passed: 0, failed: 1, skipped: 0 })

/**
 * A suite that ran nothing, or that ended badly though none of its tests did, is a failure.
 *
 * @param {number} code
 * @param {Counts} counts
 * @returns {Counts}
 */
function honest(code, counts) {
  const bad = counts.failed === 0 && (code !== 0 || counts.passed === 0)
  return bad ? { ...counts, failed: 1 } : counts
}
