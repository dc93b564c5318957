'use client'

import Link from 'next/link'
import { neededCheck } from '../../../../../lib/core/checks/locks'
import type { Cleared, RoundShut, SheetLock } from '../../../../../lib/shop/round-shut'
import { Disclosure } from '../../../../_ui/disclosure'
import { countOf, formatInstant } from '../../../../_ui/formats'
import type { SeenNeed } from './as-seen-here'
import { ClearLock } from './clear-lock'
import { shownFirst, waitingOf } from './shut-words'

export type OpenCheck = (need: SeenNeed) => boolean

type Shown = {
  bike: { id: string; viewingNo: number }
  mayClear: boolean
  zone: string
  /** Opens a check on the page one is on; false where it is not there, and the link leads to it. */
  onOpen?: OpenCheck
}

/** Everything that keeps a round shut, each with the one tap to where it is put right. */
export function ShutBy({
  shut,
  shutHere = [],
  ...shown
}: Shown & {
  shut: Omit<RoundShut, 'needs'> & { needs: readonly SeenNeed[] }
  /** Titles of faults that the server does not know of yet. */
  shutHere?: readonly string[]
}) {
  const { bike, mayClear, zone } = shown
  const at = `/bikes/${bike.viewingNo}`
  return (
    <>
      <ul className="flex flex-col gap-4 empty:hidden">
        {shutHere.map((title) => (
          <li key={title}>
            <p className="font-semibold">{title}</p>
            <p>Just recorded on this device. What opens it again shows once it is sent.</p>
          </li>
        ))}
        {shut.locks.map((lock) => (
          <li key={lock.fault} className="flex flex-col gap-1">
            <p className="font-semibold">{lock.title}</p>
            <p>{lock.means}</p>
            <p>{opensBy(lock, zone)}</p>
            {mayClear && lock.clearedBy === 'reason' && lock.cleared === null && (
              <ClearLock bike={bike.id} fault={lock.fault} title={lock.title} />
            )}
          </li>
        ))}
        {shut.states.map(({ id, title, tag, note, who, at: since }) => (
          <li key={id}>
            <p className="font-semibold">
              {title}: {tag}
            </p>
            <p>
              Since {formatInstant(since, zone)}, {who}.{note && ` ${sentence(note)}`}
            </p>
            <Link href={`${at}/bench#open`} className="tap">
              Put it back
            </Link>
          </li>
        ))}
        {shut.openWork.length > 0 && (
          <li>
            <p className="font-semibold">Work that is not finished: {shut.openWork.join(', ')}</p>
            <Link href={`${at}/bench`} className="tap">
              To the bench
            </Link>
          </li>
        )}
        {shut.wantsRidePapers && (
          <li>
            <p>
              <strong>Note the ride first:</strong> who rides, the licence, the cover, the plates.
            </p>
            <Link href={`${at}/rides`} className="tap">
              Note a ride
            </Link>
          </li>
        )}
      </ul>
      <Needs needs={shut.needs} {...shown} />
    </>
  )
}

/** Folded, so that on a phone the checks themselves stay in sight. */
function Needs({ needs, ...shown }: Shown & { needs: readonly SeenNeed[] }) {
  const waiting = waitingOf(needs)
  const rest = needs.filter((need) => !waiting.includes(need))
  const more = waiting.slice(shownFirst)
  return (
    <>
      {waiting.length > 0 && (
        <Disclosure
          summary={<span className="font-semibold">{countOf(waiting.length, 'check')} to do first</span>}
        >
          <NeedList needs={waiting.slice(0, shownFirst)} {...shown} />
          {more.length > 0 && (
            <div className="pt-2">
              <Disclosure summary={<span className="font-semibold">And {more.length} more</span>}>
                <NeedList needs={more} {...shown} />
              </Disclosure>
            </div>
          )}
        </Disclosure>
      )}
      {rest.length > 0 && <NeedList needs={rest} {...shown} />}
    </>
  )
}

function NeedList({ needs, bike, mayClear, zone, onOpen }: Shown & { needs: readonly SeenNeed[] }) {
  return (
    <ul className="flex flex-col">
      {needs.map((need) => {
        const { check, title, says, byReason, cleared, onItsWay } = need
        return (
          <li key={check} className="border-b border-rule py-1 last:border-0">
            <div className="flex flex-wrap items-center justify-between gap-x-4">
              <Link
                href={`/bikes/${bike.viewingNo}/checks?check=${check}`}
                onClick={(event) => {
                  if (onOpen?.(need)) event.preventDefault()
                }}
                className="tap font-semibold"
              >
                {title}
              </Link>
              <span className="text-soft">{onItsWay ? 'Done here, on its way.' : says}</span>
            </div>
            {cleared && <p>{clearedWords(cleared, zone)}</p>}
            {mayClear && byReason && cleared === null && !onItsWay && (
              <ClearLock bike={bike.id} fault={neededCheck(check)} title={title} />
            )}
          </li>
        )
      })}
    </ul>
  )
}

function opensBy(lock: SheetLock, zone: string): string {
  if (lock.cleared) return `${clearedWords(lock.cleared, zone)} The fault is still there.`
  const work = lock.jobs.length > 0 ? `the work (${lock.jobs.join(', or ')})` : 'the work'
  const proof = lock.rechecks.length > 0 ? `the recheck (${lock.rechecks.join(', ')})` : 'the recheck'
  const byWork = `${work} and then ${proof}`
  return lock.clearedBy === 'job'
    ? `Only this opens it: ${byWork}.`
    : `This opens it: ${byWork}; or a manager, with a reason, for one ride or one day.`
}

function clearedWords({ who, until, reason, oneRide }: Cleared, zone: string): string {
  const ends = oneRide ? 'until the next ride is back, at the latest' : 'until'
  return `${who} opened it ${ends} ${formatInstant(until, zone)}: ${sentence(reason)}`
}

/** What a person typed, closed with a full stop where it has none. */
function sentence(typed: string): string {
  return /[.!?]$/.test(typed) ? typed : `${typed}.`
}
