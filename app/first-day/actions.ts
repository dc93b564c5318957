'use server'

import { redirect } from 'next/navigation'
import { openShop } from '../../lib/shop/open-shop'
import { enterAs } from '../../lib/web/enter'
import { formDoor } from '../../lib/web/form-door'
import { inputOf } from '../../lib/web/form-state'

export const openShopAction = formDoor(openShop, {
  secrets: ['code', 'pin'],
  input: (form) => {
    const input = inputOf(form)
    // Where there is no tax nobody is asked for its rate.
    return input.taxScheme === 'none' ? { ...input, taxRate: '0' } : input
  },
  after: async (answer, context, form) => {
    await enterAs({ ...answer, pin: form.get('pin') }, context)
    redirect('/')
  },
})
