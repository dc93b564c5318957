import { type MoneyLack, pointNames, registerNames } from '../../../../../lib/core/checks/money-gate'

/** Where on this page a lack is put right. */
export function placeOfLack({ of, about }: MoneyLack): string {
  return `#${of}-${about}`
}

/** A lack as a next step. */
export function stepOfLack({ of, about }: MoneyLack): string {
  return of === 'register' ? `Ask: ${registerNames[about]}` : `Note ${pointNames[about]}`
}
