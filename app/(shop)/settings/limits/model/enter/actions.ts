'use server'

import { revalidatePath } from 'next/cache'
import { mostCsv } from '../../../../../../lib/shop/csv'
import { importModelLimits, setModelLimits } from '../../../../../../lib/shop/model-limits'
import { formDoor } from '../../../../../../lib/web/form-door'
import { inputOf } from '../../../../../../lib/web/form-state'

const after = async () => revalidatePath('/settings/limits', 'layout')

export const setModelLimitsAction = formDoor(setModelLimits, { after })
export const importModelLimitsAction = formDoor(importModelLimits, { input: withTable, after })

/** A chosen file stands for what was pasted. */
async function withTable(form: FormData): Promise<unknown> {
  const input = inputOf(form)
  const file = form.get('file')
  if (!(file instanceof File) || file.size === 0) return input
  // Longer than any table that is taken: refused by its length, without reading all of it.
  return { ...input, csv: await file.slice(0, 4 * mostCsv).text() }
}
