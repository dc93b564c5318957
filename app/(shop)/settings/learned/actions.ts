'use server'

import { revalidatePath } from 'next/cache'
import { acceptLearned, revertLearned } from '../../../../lib/shop/learned'
import { formDoor } from '../../../../lib/web/form-door'

const after = async () => revalidatePath('/', 'layout')

export const acceptLearnedAction = formDoor(acceptLearned, { after })
export const revertLearnedAction = formDoor(revertLearned, { after })
