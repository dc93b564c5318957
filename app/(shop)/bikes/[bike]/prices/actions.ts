'use server'

import { revalidatePath } from 'next/cache'
import {
  correctComparable,
  noteComparable,
  reckonWithNoted,
  seeComparableAgain,
  withdrawComparable,
} from '../../../../../lib/shop/comparables'
import { importComparables } from '../../../../../lib/shop/comparables-csv'
import { mostCsv } from '../../../../../lib/shop/csv'
import { formDoor } from '../../../../../lib/web/form-door'
import { inputOf } from '../../../../../lib/web/form-state'

const after = async () => revalidatePath('/', 'layout')

export const noteComparableAction = formDoor(noteComparable, { after })
export const correctComparableAction = formDoor(correctComparable, { after })
export const seeComparableAgainAction = formDoor(seeComparableAgain, { after })
export const withdrawComparableAction = formDoor(withdrawComparable, { after })
export const reckonWithNotedAction = formDoor(reckonWithNoted, { after })
export const importComparablesAction = formDoor(importComparables, { input: withTable, after })

/** A chosen file stands for what was pasted. */
async function withTable(form: FormData): Promise<unknown> {
  const input = inputOf(form)
  const file = form.get('file')
  if (!(file instanceof File) || file.size === 0) return input
  // Longer than any table that is taken: refused by its length, without reading all of it.
  return { ...input, table: await file.slice(0, 4 * mostCsv).text() }
}
