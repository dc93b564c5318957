'use server'

import { revalidatePath } from 'next/cache'
import { changeShop } from '../../../lib/shop/change-shop'
import { changeFigures } from '../../../lib/shop/figures'
import { formDoor } from '../../../lib/web/form-door'

const after = async () => revalidatePath('/', 'layout')

export const changeShopAction = formDoor(changeShop, { after })
export const changeFiguresAction = formDoor(changeFigures, { after })
