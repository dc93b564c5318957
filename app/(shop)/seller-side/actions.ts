'use server'

import { revalidatePath } from 'next/cache'
import { redirect } from 'next/navigation'
import { endSellerSide, startSellerSide } from '../../../lib/shop/seller-side'
import { formDoor } from '../../../lib/web/form-door'

/*
 * What the browser keeps of pages that were open is dropped both ways: going back must not show the shop's side to
 * the seller, nor the seller's to the shop.
 */

export const startSellerSideAction = formDoor(startSellerSide, {
  after: async (_answer, _context, form) => {
    revalidatePath('/', 'layout')
    const bike = bikeOf(form)
    redirect(bike ? `${bike}/offer` : '/bikes')
  },
})

export const endSellerSideAction = formDoor(endSellerSide, {
  secrets: ['pin'],
  after: async (_answer, _context, form) => {
    revalidatePath('/', 'layout')
    redirect(bikeOf(form) ?? '/')
  },
})

/** The address of the bike whose page somebody stood on. */
function bikeOf(form: FormData): string | null {
  return /^\/bikes\/\d+(?=\/|$)/.exec(String(form.get('from')))?.[0] ?? null
}
