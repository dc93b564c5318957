import type { DeviceShown } from '../../../../lib/shop/read-settings'
import { ActionForm } from '../../../_ui/action-form'
import { countOf, formatInstant, formatNumber } from '../../../_ui/formats'
import { HiddenField, VersionField } from '../../../_ui/hidden-field'
import { SubmitButton } from '../../../_ui/submit-button'
import { revokeDeviceAction } from './actions'

/** A device: whose it is, when it was last heard from, what it still keeps, and the way to shut it out. */
export function DeviceEntry({ device, zone, own }: { device: DeviceShown; zone: string; own: boolean }) {
  const { id, name, owner, waiting, clockAheadMs, revokedAt, version } = device
  return (
    <li className="flex flex-wrap items-start justify-between gap-3 border-b border-rule py-3 last:border-0">
      <div className="min-w-0">
        <p className="font-semibold">
          {name}
          {own && <span className="font-normal text-soft"> (this one)</span>}
        </p>
        <p>{owner === null ? 'For the bench' : `${owner.name}\u2019s own`}</p>
        <p className="text-soft">{times(device, zone).join(', ')}</p>
        {waiting > 0 && (
          <p className="font-semibold">
            Still kept {countOf(waiting, 'record')} when last heard from
            {revokedAt && ', which it cannot send any more'}
          </p>
        )}
        {clockAheadMs !== null && (
          <p className="font-semibold">
            Its clock is {clockWords(clockAheadMs)}. Set it right on the device.
          </p>
        )}
      </div>
      {!own && !revokedAt && (
        <ActionForm action={revokeDeviceAction} label={`Shut out ${name}`}>
          <HiddenField name="device" value={id} />
          <VersionField version={version} />
          <SubmitButton look="quiet">Shut this device out</SubmitButton>
        </ActionForm>
      )}
    </li>
  )
}

function times({ enrolledAt, lastUsedAt, lastSyncAt, revokedAt }: DeviceShown, zone: string): string[] {
  const said = (what: string, at: Date | null) => (at ? [`${what} ${formatInstant(at, zone)}`] : [])
  return [
    ...said('enrolled', enrolledAt),
    ...said('last signed in on', lastUsedAt),
    ...said('last heard from', lastSyncAt),
    ...said('shut out', revokedAt),
  ]
}

/** How far a clock is off, in the unit a person would say: 7 minutes fast, 3 days slow. */
export function clockWords(aheadMs: number): string {
  const minutes = Math.abs(aheadMs) / 60_000
  const way = aheadMs > 0 ? 'fast' : 'slow'
  if (minutes < 90) return `${countOf(Math.round(minutes), 'minute')} ${way}`
  if (minutes < 36 * 60) return `${countOf(Math.round(minutes / 60), 'hour')} ${way}`
  return `${formatNumber(minutes / 1440, 0)} days ${way}`
}
