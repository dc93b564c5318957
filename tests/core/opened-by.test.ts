import { expect, it } from 'vitest'
import { openedBy } from '../../lib/catalogue/opened-by'
import { operations } from '../../lib/catalogue/operations'
import { openStateKinds } from '../../lib/core/checks/open-states'

it('names only steps that the catalogue has', () => {
  const known: readonly string[] = operations.map(({ key }) => key)
  expect(Object.keys(openedBy).filter((key) => !known.includes(key))).toEqual([])
})

it('leaves out no kind of open state: each is offered by some step', () => {
  expect(new Set(Object.values(openedBy))).toEqual(new Set(Object.keys(openStateKinds)))
})

it('knows every step that drains, takes a wheel out or opens a brake', () => {
  const dangerous = operations
    .map(({ key }): string => key)
    .filter((key) => /^drain-|-wheel-off$|caliper|master-off|brake-bled|^tank-|^carbs-/.test(key))
  expect(dangerous.filter((key) => !(key in openedBy))).toEqual([])
})
