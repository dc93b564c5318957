import type { Metadata } from 'next'
import { readDevice } from '../../../lib/shop/read-device'
import { buildName } from '../../../lib/web/build-name'
import { openPage } from '../../../lib/web/pages'
import { DevicePanel } from './device-panel'

export const metadata: Metadata = { title: 'This device' }

/** What lies on this device, and what it can do by itself. */
export default async function DevicePage() {
  const context = await openPage('/device')
  const device = await readDevice(context)
  return (
    <main id="main" className="page bench">
      <DevicePanel device={device} person={context.who.personId} build={buildName()} />
    </main>
  )
}
