import { describe, expect, test } from 'vitest'
import { calcHere } from './calc-command'

export type Row = [what: string, document: unknown, path: (string | number)[], hint: RegExp]

const missing = (kind: string) => new RegExp(`^Add it: ${kind} is needed\\.$`)

/** What to do, as the hints say it. */
export const hints = {
  misspelt: /^Correct its spelling or leave it out; --schema lists the keys\.$/,
  missing,
  aNumber: missing('a number'),
  whole: /^Give a whole number( or an object)?\.$/,
  from0: /^Give a value that is at least 0\.$/,
  above0: /^Give a value that is above 0\.$/,
  upTo1: /^Give a value that is at most 1\.$/,
  oneEntry: /^Give at least 1 entry\.$/,
  rising: /^Give low, likely and high in rising order/,
  toOperations: /^Add it to operations, or correct the name\.$/,
  toJobs: /^Add it to jobs, or correct the key\.$/,
  ring: /^Take one of these needs out\.$/,
  sumTo1: /sum to 1\.$/,
  ownKey: /^Give each its own key\.$/,
  ownName: /^Give each state its own name\.$/,
  eachState: /Give one chance for each/,
  takeBack: /^No set of jobs keeps them all\. Take one of them back\.$/,
  asShare: /^Give the rate as a share: 0\.2 is 20 %\.$/,
  standard: /^Use the scheme standard/,
}

/**
 * What a calculation refuses, asked the way the command asks: exit status 2, nothing on standard output, one line on
 * standard error with the deepest key at fault and what to do.
 */
export function refuses(name: string, rows: Row[]): void {
  describe(`${name} refuses`, () => {
    test.each(rows)('%s', async (_, document, path, hint) => {
      const text = typeof document === 'string' ? document : JSON.stringify(document)
      const { status, out, err } = await calcHere([name], text)
      expect({ status, out }).toEqual({ status: 2, out: '' })
      expect(err).toMatch(/^[^\n]+\n$/)
      expect(JSON.parse(err)).toEqual({
        error: expect.stringMatching(/\w.*\.$/),
        path,
        hint: expect.stringMatching(hint),
      })
    })
  })
}
