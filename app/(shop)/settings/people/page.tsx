import type { Metadata } from 'next'
import { headers } from 'next/headers'
import { mayOwnDevice } from '../../../../lib/shop/devices'
import { type PersonShown, readPeople } from '../../../../lib/shop/read-settings'
import { openPage } from '../../../../lib/web/pages'
import { addressForOthers } from '../../../../lib/web/served'
import { ActionForm } from '../../../_ui/action-form'
import { CheckGroup } from '../../../_ui/choice-fields'
import { Disclosure } from '../../../_ui/disclosure'
import { Field } from '../../../_ui/field'
import { countOf } from '../../../_ui/formats'
import { HiddenField, VersionField } from '../../../_ui/hidden-field'
import { PageHead } from '../../../_ui/page-head'
import { Sheet } from '../../../_ui/sheet'
import { SubNav } from '../../../_ui/sub-nav'
import { SubmitButton } from '../../../_ui/submit-button'
import { settingsEntries } from '../entries'
import { addPersonAction, changePersonAction, personLeftAction, setPinAction } from './actions'
import { DeviceCode } from './device-code'
import { DeviceEntry } from './device-entry'

export const metadata: Metadata = { title: 'People and devices' }

const roleChoices = [
  { value: 'technician', label: 'Technician', hint: 'Checks and jobs. Sees no money.' },
  { value: 'dealer', label: 'Dealer', hint: 'Viewings, offers, buying; sees money.' },
  { value: 'manager', label: 'Manager', hint: 'All of that, and settings, people, locks.' },
]

const pinHint = 'Six digits, not all the same and not a run. You see what you type; tell it to nobody else.'

/** Who works here, with which roles, and on which devices they may sign in. */
export default async function People() {
  const { store, now, deviceId } = await openPage('/settings/people')
  const { people, devices, zone } = await readPeople(store.db, now)
  const asked = await headers()
  const here = people.filter((person) => !person.leftAt)
  const left = people.filter((person) => person.leftAt)
  const enrolled = devices.filter((device) => !device.revokedAt)
  const shutOut = devices.filter((device) => device.revokedAt)
  return (
    <main id="main" className="page">
      <PageHead
        title="People and devices"
        sub="People sign in by name and PIN, and only on devices that are enrolled here."
        figure={{ label: 'people', value: here.length }}
      />
      <SubNav label="Settings" entries={settingsEntries} current="/settings/people" />
      <div className="grid items-start gap-6 lg:grid-cols-2">
        <div className="flex flex-col gap-6">
          <Sheet title="People">
            <ul className="flex flex-col">
              {here.map((person) => (
                <PersonEntry key={person.id} person={person} />
              ))}
            </ul>
            {left.length > 0 && (
              <p className="mt-4 text-soft">Were here: {left.map(({ name }) => name).join(', ')}.</p>
            )}
          </Sheet>
          <Sheet title="Add a person">
            <ActionForm action={addPersonAction} label="Add a person" done="Added. They can sign in now.">
              <Field name="name" label="Name" hint="As it should stand on the sign-in page." required />
              <CheckGroup name="roles[]" label="Roles" choices={roleChoices} required />
              <Field name="pin" label="PIN" hint={pinHint} inputMode="numeric" maxLength={6} required />
              <div>
                <SubmitButton>Add this person</SubmitButton>
              </div>
            </ActionForm>
          </Sheet>
        </div>
        <div className="flex flex-col gap-6">
          <Sheet title="A further device">
            <DeviceCode
              address={addressForOthers((name) => asked.get(name))}
              owners={here.filter(({ roles }) => mayOwnDevice(roles))}
            />
          </Sheet>
          <Sheet title="Devices">
            <ul className="flex flex-col">
              {enrolled.map((device) => (
                <DeviceEntry key={device.id} device={device} zone={zone} own={device.id === deviceId} />
              ))}
            </ul>
            {shutOut.length > 0 && (
              <Disclosure summary={`${countOf(shutOut.length, 'device')} shut out`}>
                <ul className="flex flex-col">
                  {shutOut.map((device) => (
                    <DeviceEntry key={device.id} device={device} zone={zone} own={false} />
                  ))}
                </ul>
              </Disclosure>
            )}
          </Sheet>
        </div>
      </div>
    </main>
  )
}

function PersonEntry({ person: { id, name, roles, signedIn, version } }: { person: PersonShown }) {
  return (
    <li className="border-b border-rule last:border-0">
      <Disclosure
        summary={
          <>
            <span className="font-semibold">{name}</span>{' '}
            <span className="text-soft">
              {roles.join(', ')}
              {signedIn && ' · signed in'}
            </span>
          </>
        }
      >
        <div className="flex flex-col gap-6">
          <ActionForm action={changePersonAction} label={`Name and roles of ${name}`} done="Saved.">
            <HiddenField name="person" value={id} />
            <VersionField version={version} />
            <Field name="name" label="Name" defaultValue={name} required />
            <CheckGroup name="roles[]" label="Roles" choices={roleChoices} chosen={roles} required />
            <div>
              <SubmitButton look="quiet">Save name and roles</SubmitButton>
            </div>
          </ActionForm>
          <ActionForm
            action={setPinAction}
            label={`New PIN for ${name}`}
            done="The new PIN holds. The old one ended every session under it."
          >
            <HiddenField name="person" value={id} />
            <VersionField version={version} />
            <Field name="pin" label="New PIN" hint={pinHint} inputMode="numeric" maxLength={6} required />
            <div>
              <SubmitButton look="quiet">Set this PIN</SubmitButton>
            </div>
          </ActionForm>
          <ActionForm action={personLeftAction} label={`${name} has left`}>
            <HiddenField name="person" value={id} />
            <VersionField version={version} />
            <p className="text-soft">
              Somebody who has left is signed out at once and cannot come in any more, and a device of their
              own is shut out. Their name stays on what they did.
            </p>
            <div>
              <SubmitButton look="quiet">{name} has left the shop</SubmitButton>
            </div>
          </ActionForm>
        </div>
      </Disclosure>
    </li>
  )
}
