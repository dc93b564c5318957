'use client'

import { type ReactNode, useEffect, useRef, useState } from 'react'
import { type Round, rounds } from '../../../../../lib/core/checks/catalogue'
import type { DistanceTold } from '../../../../../lib/shop/distances-of'
import type { Sheet } from '../../../../../lib/shop/read-sheet'
import { isOpen, lacksPositions } from '../../../../../lib/shop/round-progress'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { Caution } from '../../../../_ui/notes'
import { PageHead } from '../../../../_ui/page-head'
import type { SeenCheck, SeenSheet } from './as-seen-here'
import { CheckPanel } from './check-panel'
import { ConditionsHeld } from './conditions-held'
import { InSight } from './in-sight'
import { isPlainlyGood } from './leads-on'
import { PrintedSheet } from './printed-sheet'
import { RecordedLine } from './recorded-line'
import type { Said } from './recording'
import { RoundLocks } from './round-locks'
import { leftWords, RoundSteps } from './round-steps'
import { roundWords, standWords } from './round-words'
import { RowsOfRound } from './rows-of-round'
import { SendingState } from './sending-state'
import { ShortLink } from './short-link'
import { useRecording } from './use-recording'

type Start = { round: Round | null; check: string | null }

/** The technician's sheet: one round at a time, one check at a time, everything recorded at once and sent on. */
export function CheckSheet({
  sheet,
  start,
  distance,
  nav,
}: {
  sheet: Sheet
  start: Start
  /** For the sheet on paper. */
  distance: DistanceTold
  /** The other pages of this bike, drawn on the server. */
  nav: ReactNode
}) {
  const recording = useRecording(sheet)
  const { seen, holding, setHolding } = recording
  const [at, setAt] = useState(() => startAt(seen, start))
  useEffect(() => {
    const before = placeIn(window.location.hash)
    if (before) setAt(before)
  }, [])
  const panel = useRef<HTMLHeadingElement>(null)
  const next = useRef<HTMLButtonElement>(null)

  const round = seen.rounds.find((one) => one.round === at.round)!
  const row = round.checks.find(({ check }) => check.key === at.check) ?? round.checks[0]
  const follows = row && followingOpen(seen, row)

  /**
   * The heading of the check takes the focus, so that a reader hears where it is and Tab goes on from there. The
   * place stands behind the # of the address: were it before that, a page that is being read again would be
   * taken for another one and loaded whole, and what waits to be sent would be lost.
   */
  function open(target: { round: Round; check: string | null }) {
    setAt(target)
    window.history.replaceState(null, '', `#${[target.round, target.check].filter(Boolean).join('/')}`)
    requestAnimationFrame(() => panel.current?.focus())
  }

  function openRound(to: Round) {
    const { checks } = seen.rounds.find((one) => one.round === to)!
    const first = checks.find(({ judgement }) => isOpen(judgement)) ?? checks[0]
    open({ round: to, check: first?.check.key ?? null })
  }

  /** A check answered good leads on by itself; anything else stays, for a photo, a note or a second look. */
  function record(recorded: SeenCheck, said: Said) {
    const { after, row: done } = recording.record(recorded, said)
    if (isOpen(done.judgement) || lacksPositions(done.judgement)) return
    const to = followingOpen(after, done)
    const leadsOn = said.kind === 'skipped' || (said.kind === 'answer' && isPlainlyGood(done))
    if (leadsOn && to?.check.round === recorded.check.round) {
      open({ round: to.check.round, check: to.check.key })
    } else requestAnimationFrame(() => next.current?.focus())
  }

  /** Back at the check that was recorded by mistake, so that it can be recorded rightly. */
  function undo() {
    const check = recording.undo()
    if (check) open({ round: check.round, check: check.key })
  }

  const { progress } = seen
  return (
    <>
      <div className="flex flex-col gap-4 print:hidden">
        <PageHead
          title={bikeName(sheet.bike)}
          sub={numbersOf(sheet.bike)}
          figure={{
            label: 'Still to check',
            value: progress.open,
            note: `of ${progress.applicable}${progress.skipped > 0 ? `; ${progress.skipped} left out, with a reason` : ''}`,
          }}
        />
        {nav}
        <ShortLink rounds={seen.rounds} viewingNo={sheet.bike.viewingNo} />
        <SendingState state={recording.state} putAway={recording.putAway} />
        <RoundSteps rounds={seen.rounds} current={at.round} onOpen={openRound} />
        <RoundLocks
          round={round}
          bike={sheet.bike}
          mayClear={sheet.person.mayClear}
          zone={sheet.zone}
          onOpen={({ doneIn, check }) => {
            open({ round: doneIn, check })
            return true
          }}
        />
        <ConditionsHeld checks={round.checks} holding={holding} onChange={setHolding} />
        <InSight
          left={`${roundWords[round.round].name} round: ${leftWords(round.progress)}`}
          rounds={seen.rounds}
        >
          <RecordedLine
            last={recording.last}
            current={row?.check.key ?? null}
            onOpen={(check) => open({ round: check.round, check: check.key })}
            onUndo={undo}
          />
        </InSight>
        <div className="grid items-start gap-5 xl:grid-cols-[minmax(0,1fr)_20rem]">
          {row ? (
            <CheckPanel
              key={row.check.key}
              row={row}
              shut={!round.open}
              sheet={sheet}
              holding={holding}
              heading={panel}
              place={`${roundWords[round.round].name} round, check ${round.checks.indexOf(row) + 1} of ${round.checks.length}${row.check.standAt ? `: ${standWords[row.check.standAt].toLowerCase()}` : ''}`}
              onRecord={(said) => record(row, said)}
              onLimit={(figures) => {
                recording.setLimit(row.check, figures)
                requestAnimationFrame(() => panel.current?.focus())
              }}
              onPhoto={(bytes) => recording.addPhoto(row.check, bytes)}
              onDraw={(photo, marks) => recording.draw(row.check, photo, marks)}
              onTakeBack={(reading, because) => {
                recording.takeBack(row, reading, because)
                requestAnimationFrame(() => panel.current?.focus())
              }}
              onHold={(condition) => setHolding([...holding, condition])}
              next={
                <NextStep
                  row={row}
                  follows={follows ?? null}
                  button={next}
                  onOpen={({ check }) => open({ round: check.round, check: check.key })}
                />
              }
            />
          ) : (
            <p>No check of this round applies to this kind of bike.</p>
          )}
          <RowsOfRound
            round={round}
            current={row?.check.key ?? null}
            onOpen={(check) => open({ round: round.round, check })}
          />
        </div>
        {sheet.law && <Caution title={sheet.law.title}>{sheet.law.says}</Caution>}
      </div>
      <PrintedSheet sheet={seen} distance={distance} />
    </>
  )
}

function startAt(seen: SeenSheet, { round, check }: Start): { round: Round; check: string | null } {
  const all = seen.rounds.flatMap(({ checks }) => checks)
  const named = all.find((row) => row.check.key === check)
  if (named) return { round: named.check.round, check: named.check.key }
  const inRound = round ? seen.rounds.filter((one) => one.round === round) : seen.rounds
  const doable = inRound.find((one) => one.open && one.progress.open > 0) ?? inRound[0]
  const first = doable?.checks.find(({ judgement }) => isOpen(judgement)) ?? doable?.checks[0]
  return { round: doable?.round ?? 'cold', check: first?.check.key ?? null }
}

/** The place that `open` left in the address, where the page was loaded again since. */
function placeIn(hash: string): { round: Round; check: string | null } | null {
  const [name, check = null] = hash.slice(1).split('/')
  const round = rounds.find((one) => one === name)
  return round ? { round, check } : null
}

/**
 * The next check that waits: in its round what comes before anything else, then behind this one, then before it; then in
 * the next round that is open.
 */
function followingOpen(seen: SeenSheet, row: SeenCheck): SeenCheck | null {
  const here = seen.rounds.findIndex((one) => one.round === row.check.round)
  const checks = seen.rounds[here]?.checks ?? []
  const place = checks.findIndex(({ check }) => check.key === row.check.key)
  const others = [...checks.slice(place + 1), ...checks.slice(0, Math.max(place, 0))]
  const isFirst = ({ check }: SeenCheck) => check.standAt === 'first'
  const inOrder = [...others.filter(isFirst), ...others.filter((one) => !isFirst(one))]
  const later = [...seen.rounds.slice(here + 1), ...seen.rounds.slice(0, Math.max(here, 0))]
  const elsewhere = later.filter(({ open }) => open).flatMap((round) => round.checks)
  return [...inOrder, ...elsewhere].find(({ judgement }) => isOpen(judgement)) ?? null
}

function NextStep({
  row,
  follows,
  button,
  onOpen,
}: {
  row: SeenCheck
  follows: SeenCheck | null
  button: React.Ref<HTMLButtonElement>
  onOpen: (row: SeenCheck) => void
}) {
  if (isOpen(row.judgement)) return null
  if (!follows) {
    return <p className="font-semibold">Nothing is left to check that may be checked now.</p>
  }
  const elsewhere = follows.check.round !== row.check.round
  return (
    <button ref={button} type="button" className="btn text-lg" onClick={() => onOpen(follows)}>
      {elsewhere && `On to the ${roundWords[follows.check.round].name.toLowerCase()} round: `}
      {!elsewhere && 'Next: '}
      {follows.check.title}
    </button>
  )
}
