'use client'

import Link from 'next/link'
import { type ReactNode, useEffect, useRef, useState } from 'react'
import type { Sheet } from '../../../../../../lib/shop/read-sheet'
import { isAsked, isOpen, lacksPositions, shortRound } from '../../../../../../lib/shop/round-progress'
import { bikeName, numbersOf } from '../../../../../_ui/bike-name'
import { countOf } from '../../../../../_ui/formats'
import { Caution } from '../../../../../_ui/notes'
import { PageHead } from '../../../../../_ui/page-head'
import type { SeenCheck, SeenSheet } from '../as-seen-here'
import { CheckPanel } from '../check-panel'
import { ConditionsHeld } from '../conditions-held'
import { InSight } from '../in-sight'
import { isPlainlyGood } from '../leads-on'
import { RecordedLine } from '../recorded-line'
import type { Said } from '../recording'
import { RoundLocks } from '../round-locks'
import { placeWords, roundWords } from '../round-words'
import { SendingState } from '../sending-state'
import { type MadeHere, useRecording } from '../use-recording'
import { ShortPlaces } from './short-places'

type Way = { href: string; label: string }

/** The dealer's round at a viewing: the checks that say most in the least time, in the order one walks. */
export function ShortRound({
  sheet,
  nav,
  after,
  madeHere = null,
}: {
  sheet: Sheet
  /** The other pages of this bike, drawn on the server. */
  nav: ReactNode
  /** Where one goes when it is done. */
  after: Way
  /** Away from the shop: how the sheet is made, and what stands before the check in the address. */
  madeHere?: (MadeHere & { hash: string }) | null
}) {
  const recording = useRecording(sheet, madeHere)
  const { seen, holding, setHolding } = recording
  const { rows, asked, minutesLeft } = shortOf(seen)
  const all = madeHere ? seen.rounds.flatMap(({ checks }) => checks) : rows
  const hash = madeHere?.hash ?? '#'
  const [at, setAt] = useState(() => (asked[0] ?? rows[0])?.check.key ?? null)
  useEffect(() => {
    const look = () => {
      const before = checkIn(window.location.hash, hash)
      if (before) setAt(before)
    }
    look()
    window.addEventListener('hashchange', look)
    return () => window.removeEventListener('hashchange', look)
  }, [hash])
  const panel = useRef<HTMLHeadingElement>(null)
  const next = useRef<HTMLButtonElement & HTMLAnchorElement>(null)

  const row = all.find(({ check }) => check.key === at) ?? asked[0] ?? rows[0]
  const round = row && seen.rounds.find((one) => one.round === row.check.round)

  function open(key: string) {
    setAt(key)
    window.history.replaceState(null, '', `${hash}${key}`)
    requestAnimationFrame(() => panel.current?.focus())
  }

  /** As on the full sheet: what is plainly good leads on by itself, all else stays for a second look. */
  function record(recorded: SeenCheck, said: Said) {
    const { after: seenAfter, row: done } = recording.record(recorded, said)
    if (isOpen(done.judgement) || lacksPositions(done.judgement)) return
    const to = following(seenAfter, done)
    const leadsOn = said.kind === 'skipped' || (said.kind === 'answer' && isPlainlyGood(done))
    if (leadsOn && to && !isShut(seenAfter, to)) open(to.check.key)
    else requestAnimationFrame(() => next.current?.focus())
  }

  return (
    <div className="flex flex-col gap-4">
      <PageHead
        title="Short round"
        sub={`${bikeName(sheet.bike)}. ${numbersOf(sheet.bike)}.`}
        figure={{
          label: 'Minutes left',
          value: minutesLeft,
          note: `${asked.length} of ${rows.length} checks to do`,
        }}
      />
      {nav}
      <SendingState state={recording.state} putAway={recording.putAway} />
      {asked.length === 0 && (
        <section aria-label="Short round done" className="border-l-8 border-accent bg-wash p-4">
          <h2>The short round is done</h2>
          <p className="mb-3">
            All {rows.length} checks are answered. Any of them can be looked at again below.
          </p>
          {madeHere ? (
            <a ref={next} href={after.href} className="btn">
              {after.label}
            </a>
          ) : (
            <Link ref={next} href={after.href} className="btn">
              {after.label}
            </Link>
          )}
        </section>
      )}
      {round && (
        <RoundLocks
          round={round}
          bike={sheet.bike}
          mayClear={sheet.person.mayClear}
          zone={sheet.zone}
          onOpen={({ check }) => {
            const isHere = all.some((one) => one.check.key === check)
            if (isHere) open(check)
            return isHere
          }}
        />
      )}
      <ConditionsHeld checks={rows} holding={holding} onChange={setHolding} />
      <InSight left={`${countOf(asked.length, 'check')} left, about ${minutesLeft} min`} rounds={seen.rounds}>
        <RecordedLine
          last={recording.last}
          current={row?.check.key ?? null}
          onOpen={({ key, short, round: of }) => {
            if (short || madeHere) open(key)
            else window.location.assign(`/bikes/${sheet.bike.viewingNo}/checks#${of}/${key}`)
          }}
          onUndo={() => {
            const check = recording.undo()
            if (check) open(check.key)
          }}
        />
      </InSight>
      <div className="grid items-start gap-5 xl:grid-cols-[minmax(0,1fr)_20rem]">
        {row && round && (
          <CheckPanel
            key={row.check.key}
            row={row}
            shut={!round.open}
            sheet={sheet}
            holding={holding}
            heading={panel}
            place={placeSaid(row, rows)}
            onRecord={(said) => record(row, said)}
            onLimit={(figures) => {
              recording.setLimit(row.check, figures)
              requestAnimationFrame(() => panel.current?.focus())
            }}
            onPhoto={(bytes) => recording.addPhoto(row.check, bytes)}
            onDraw={(photo, marks) => recording.draw(row.check, photo, marks)}
            onHold={(condition) => setHolding([...holding, condition])}
            onTakeBack={(reading, because) => {
              recording.takeBack(row, reading, because)
              requestAnimationFrame(() => panel.current?.focus())
            }}
            next={<NextShort row={row} seen={seen} button={next} onOpen={open} />}
          />
        )}
        <ShortPlaces rows={rows} current={row?.check.key ?? null} onOpen={open} />
      </div>
      {sheet.law && <Caution title={sheet.law.title}>{sheet.law.says}</Caution>}
    </div>
  )
}

function placeSaid(row: SeenCheck, rows: readonly SeenCheck[]): string {
  const { short, round } = row.check
  if (!short) return `${roundWords[round].name} round, beside the short round`
  return `${placeWords[short]}: check ${rows.indexOf(row) + 1} of ${rows.length}`
}

/** The check that `open` left in the address. */
function checkIn(hash: string, before: string): string | null {
  return hash.startsWith(before) && hash.length > before.length ? hash.slice(before.length) : null
}

function shortOf(seen: SeenSheet) {
  return shortRound(seen.rounds.flatMap(({ checks }) => checks))
}

/** The next that is asked for: in an open round before a shut one, behind this check before in front of it. */
function following(seen: SeenSheet, row: SeenCheck): SeenCheck | null {
  const { rows } = shortOf(seen)
  const place = rows.findIndex(({ check }) => check.key === row.check.key)
  const asked = [...rows.slice(place + 1), ...rows.slice(0, Math.max(place, 0))].filter(isAsked)
  return asked.find((one) => !isShut(seen, one)) ?? asked[0] ?? null
}

function isShut(seen: SeenSheet, { check }: SeenCheck): boolean {
  return seen.rounds.some(({ round, open }) => round === check.round && !open)
}

function NextShort({
  row,
  seen,
  button,
  onOpen,
}: {
  row: SeenCheck
  seen: SeenSheet
  button: React.Ref<HTMLButtonElement>
  onOpen: (key: string) => void
}) {
  const follows = following(seen, row)
  if (isOpen(row.judgement) || !follows) return null
  const { key, title } = follows.check
  const shut = isShut(seen, follows)
  return (
    <button
      ref={button}
      type="button"
      className={shut ? 'btn-quiet text-lg' : 'btn text-lg'}
      onClick={() => onOpen(key)}
    >
      {shut ? 'Only if the seller did it: ' : 'Next: '}
      {title}
    </button>
  )
}
