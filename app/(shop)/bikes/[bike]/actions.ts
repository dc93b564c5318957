'use server'

import { revalidatePath } from 'next/cache'
import { makeOffer } from '../../../../lib/shop/make-offer'
import { makeReady, sayReady } from '../../../../lib/shop/ready'
import { backOnBench, buyBike, passUp, putOnBench } from '../../../../lib/shop/stages'
import { formDoor } from '../../../../lib/web/form-door'

const after = async () => revalidatePath('/', 'layout')

export const makeOfferAction = formDoor(makeOffer, { after })
export const buyBikeAction = formDoor(buyBike, { after })
export const passUpAction = formDoor(passUp, { after })
export const putOnBenchAction = formDoor(putOnBench, { after })
export const backOnBenchAction = formDoor(backOnBench, { after })
export const sayReadyAction = formDoor(sayReady, { after })
export const makeReadyAction = formDoor(makeReady, { after })
