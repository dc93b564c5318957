'use server'

import { redirect } from 'next/navigation'
import { enrolDemoDevice } from '../../lib/shop/demo-device'
import { enrolDevice } from '../../lib/shop/devices'
import { signIn } from '../../lib/shop/sign-in'
import { rememberDevice, rememberSession } from '../../lib/web/enter'
import { formDoor } from '../../lib/web/form-door'

export const signInAction = formDoor(signIn, {
  secrets: ['pin'],
  after: async (session) => {
    await rememberSession(session)
    redirect('/')
  },
})

export const enrolDeviceAction = formDoor(enrolDevice, { secrets: ['code'], after: keepDevice })

export const enrolDemoDeviceAction = formDoor(enrolDemoDevice, { after: keepDevice })

async function keepDevice({ deviceToken }: { deviceToken: string }): Promise<void> {
  await rememberDevice(deviceToken)
  redirect('/sign-in')
}
