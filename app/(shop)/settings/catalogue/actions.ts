'use server'

import { revalidatePath } from 'next/cache'
import { redirect } from 'next/navigation'
import {
  addEntry,
  changeEntry,
  entryBackToStart,
  takeEntryOut,
  takeEntryUp,
} from '../../../../lib/shop/change-catalogue'
import { importCatalogue } from '../../../../lib/shop/import-catalogue'
import { formDoor } from '../../../../lib/web/form-door'
import { inputOf } from '../../../../lib/web/form-state'
import { tableText } from './table-text'
import { kindWords } from './words'

// What a bike comes to rests on the catalogue, so nothing that was drawn before holds.
const after = async () => revalidatePath('/', 'layout')

export const changeEntryAction = formDoor(changeEntry, { after })
export const addEntryAction = formDoor(addEntry, {
  after: async ({ kind, key }) => {
    await after()
    redirect(`/settings/catalogue/${kindWords[kind].many}/${key}`)
  },
})
export const takeEntryOutAction = formDoor(takeEntryOut, { after })
export const takeEntryUpAction = formDoor(takeEntryUp, { after })
export const entryBackToStartAction = formDoor(entryBackToStart, { after })

export const importCatalogueAction = formDoor(importCatalogue, {
  input: async (form) => {
    const { file: _, ...input } = inputOf(form)
    return { ...input, table: await tableText(form) }
  },
  after: async ({ applied }) => {
    if (applied) await after()
  },
})
