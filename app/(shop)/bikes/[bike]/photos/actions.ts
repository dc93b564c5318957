'use server'

import { revalidatePath } from 'next/cache'
import { choosePhoto, markPhoto } from '../../../../../lib/shop/mark-photo'
import { takeBackPhoto } from '../../../../../lib/shop/take-back-photo'
import { formDoor } from '../../../../../lib/web/form-door'

const after = async () => revalidatePath('/bikes/[bike]', 'layout')

export const markPhotoAction = formDoor(markPhoto, { after })
export const choosePhotoAction = formDoor(choosePhoto, { after })
export const takeBackPhotoAction = formDoor(takeBackPhoto, { after })
