'use server'

import { revalidatePath } from 'next/cache'
import { askPart, changeAsked, takeOffList } from '../../../lib/shop/ask-part'
import { orderParts } from '../../../lib/shop/order-parts'
import {
  notAtHand,
  partArrived,
  partAtHand,
  partNever,
  partWrong,
  settleWrong,
} from '../../../lib/shop/part-comes'
import { askOutside, cameBack, moveDueBack, sendOut } from '../../../lib/shop/sent-out'
import { backOnShelf, fitFromShelf, putOnShelf, takeOffShelf } from '../../../lib/shop/shelf'
import { addSupplier, changeSupplier } from '../../../lib/shop/suppliers'
import { formDoor } from '../../../lib/web/form-door'

const drawnAnew = { after: async () => revalidatePath('/', 'layout') }

export const addSupplierAction = formDoor(addSupplier, drawnAnew)
export const changeSupplierAction = formDoor(changeSupplier, drawnAnew)
export const askPartAction = formDoor(askPart, drawnAnew)
export const changeAskedAction = formDoor(changeAsked, drawnAnew)
export const takeOffListAction = formDoor(takeOffList, drawnAnew)
export const orderPartsAction = formDoor(orderParts, drawnAnew)
export const partArrivedAction = formDoor(partArrived, drawnAnew)
export const partAtHandAction = formDoor(partAtHand, drawnAnew)
export const notAtHandAction = formDoor(notAtHand, drawnAnew)
export const partWrongAction = formDoor(partWrong, drawnAnew)
export const partNeverAction = formDoor(partNever, drawnAnew)
export const settleWrongAction = formDoor(settleWrong, drawnAnew)
export const sendOutAction = formDoor(sendOut, drawnAnew)
export const moveDueBackAction = formDoor(moveDueBack, drawnAnew)
export const cameBackAction = formDoor(cameBack, drawnAnew)
export const askOutsideAction = formDoor(askOutside, drawnAnew)
export const putOnShelfAction = formDoor(putOnShelf, drawnAnew)
export const takeOffShelfAction = formDoor(takeOffShelf, drawnAnew)
export const fitFromShelfAction = formDoor(fitFromShelf, drawnAnew)
export const backOnShelfAction = formDoor(backOnShelf, drawnAnew)
