'use client'

import type { SheetLock } from '../../../../../lib/shop/read-sheet'
import { ActionForm } from '../../../../_ui/action-form'
import { Disclosure } from '../../../../_ui/disclosure'
import { Field } from '../../../../_ui/field'
import { formatInstant } from '../../../../_ui/formats'
import { HiddenField } from '../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { clearLockAction } from './actions'
import type { SeenRound } from './as-seen-here'
import { Padlock } from './round-steps'
import { roundWords } from './round-words'

/** Why a round is shut and what opens it. Said before anything of the round, and never in the way of recording. */
export function RoundLocks({
  round,
  bike,
  mayClear,
  zone,
}: {
  round: SeenRound
  bike: string
  mayClear: boolean
  zone: string
}) {
  if (round.locks.length + round.shutHere.length === 0) return null
  const name = roundWords[round.round].name.toLowerCase()
  const head = round.open ? `The ${name} round is open for now` : `The ${name} round is shut`
  return (
    <section aria-label={head} className="border-2 border-plum bg-plum-wash p-4">
      <h2 className="flex items-center gap-2">
        {!round.open && <Padlock />}
        {head}
      </h2>
      {!round.open && (
        <p>
          Do not go on with it. What was seen can still be written down; how to do each check is held back
          until this is dealt with.
        </p>
      )}
      <ul className="mt-3 flex flex-col gap-4">
        {round.shutHere.map((title) => (
          <li key={title}>
            <p className="font-semibold">{title}</p>
            <p>Just recorded on this device. What opens it again shows once it is sent.</p>
          </li>
        ))}
        {round.locks.map((lock) => (
          <li key={lock.fault} className="flex flex-col gap-1">
            <p className="font-semibold">{lock.title}</p>
            <p>{lock.means}</p>
            <p>{opensBy(lock, zone)}</p>
            {mayClear && lock.clearedBy === 'reason' && lock.clearedUntil === null && (
              <ClearLock bike={bike} lock={lock} />
            )}
          </li>
        ))}
      </ul>
    </section>
  )
}

function opensBy(lock: SheetLock, zone: string): string {
  if (lock.clearedUntil !== null) {
    return `A manager opened it, with a reason, until ${formatInstant(lock.clearedUntil, zone)}. The fault is still there.`
  }
  const work = lock.jobs.length > 0 ? `the work (${lock.jobs.join(', or ')})` : 'the work'
  const proof = lock.rechecks.length > 0 ? `the recheck (${lock.rechecks.join(', ')})` : 'the recheck'
  const byWork = `${work} and then ${proof}`
  return lock.clearedBy === 'job'
    ? `Only this opens it: ${byWork}.`
    : `This opens it: ${byWork}; or a manager, with a reason, for one day.`
}

function ClearLock({ bike, lock }: { bike: string; lock: SheetLock }) {
  return (
    <Disclosure summary={<span className="font-semibold">Open it for one day</span>}>
      <ActionForm action={clearLockAction} label={`Open for one day: ${lock.title}`}>
        <HiddenField name="bike" value={bike} />
        <HiddenField name="fault" value={lock.fault} />
        <Field
          name="reason"
          label="Why it is safe to go on"
          hint="Stands in the record with your name. The fault and its call stay."
          required
          maxLength={500}
        />
        <div>
          <SubmitButton>Open for one day</SubmitButton>
        </div>
      </ActionForm>
    </Disclosure>
  )
}
