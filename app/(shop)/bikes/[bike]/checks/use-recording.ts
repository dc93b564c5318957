'use client'

import { useRouter } from 'next/navigation'
import { startTransition, useEffect, useMemo, useRef, useState } from 'react'
import type { Condition } from '../../../../../lib/core/checks/catalogue'
import type { PhotoMark } from '../../../../../lib/shop/photo-marks'
import type { CheckShown, Sheet } from '../../../../../lib/shop/read-sheet'
import type { Entry, Kept, OutboxState } from '../../../../_ui/outbox/outbox'
import { useOutbox } from '../../../../_ui/outbox/use-outbox'
import { isUnsent } from '../../../../_ui/outbox/words'
import {
  arrivalsOn,
  asSeenHere,
  drawnUnaware,
  type SeenCheck,
  type SeenReading,
  type SeenSheet,
  shopTime,
} from './as-seen-here'
import type { SeenPhoto } from './photos-seen'
import type { LastRecorded } from './recorded-line'
import {
  keptDrawing,
  keptLimit,
  keptPhoto,
  keptPhotoBack,
  keptReading,
  type LimitFigures,
  putBack,
  type Said,
  saidOn,
  takenBack,
} from './recording'
import { toolsFor } from './use-instrument'

type Last = { check: string; takenBack: boolean } & (
  | { reading: SeenReading }
  | { photo: string }
  | { drawnOn: string; before: readonly PhotoMark[] }
)

/** How it is seen where the page is made on the device itself and not by the server. */
export type MadeHere = {
  see: (entries: readonly Entry[]) => SeenSheet
  add: (kept: Kept) => void
  putAway: (id: string) => void
}

/** All recording at one bike, by whichever page: seen at once, kept, sent in its order, and taken back again. */
export function useRecording(sheet: Sheet, madeHere: MadeHere | null = null) {
  const { state, outbox } = useOutbox(sheet.person.id)
  const clockAheadMs = state.heard?.clockAheadMs ?? 0
  const see = (entries: readonly Entry[]) =>
    madeHere ? madeHere.see(entries) : asSeenHere(sheet, entries, clockAheadMs)
  // biome-ignore lint/correctness/useExhaustiveDependencies: what sees is made anew with each drawing.
  const seen = useMemo(() => see(state.entries), [sheet, state.entries, madeHere, clockAheadMs])
  useArrivals(madeHere ? null : sheet, state, (ids) => outbox().forget(ids))
  const [last, setLast] = useState<Last | null>(null)
  const [holding, setHolding] = useState<readonly Condition[]>([])

  function add(kept: Kept): SeenSheet {
    if (madeHere) madeHere.add(kept)
    else outbox().add(kept)
    return see(outbox().state().entries)
  }

  /** Adds a reading and answers the sheet and the check as they are seen after it. */
  function record(row: SeenCheck, said: Said): { after: SeenSheet; row: SeenCheck } {
    const now = new Date()
    const all = saidOn(row, said, shopTime(now, clockAheadMs)).map((one) =>
      keptReading(one, { sheet, check: row.check, now, holding }),
    )
    const after = all.reduce((_, kept) => add(kept), seen)
    const done = rowIn(after, row.check.key) ?? row
    const reading = done.readings.find(({ id }) => id === all[0]?.id)
    if (reading) setLast({ check: row.check.key, reading, takenBack: false })
    const denied = deniedBy(row.check, said)
    if (denied) setHolding((held) => held.filter((one) => one !== denied))
    return { after, row: done }
  }

  function takeBack(row: SeenCheck, reading: SeenReading, because: string) {
    end(row, reading, { said: takenBack(reading, because), held: [] })
  }

  /** Takes back what was recorded last; a correction gives its place back to what it corrected. */
  function undo(): CheckShown | null {
    if (!lastRecorded || lastRecorded.takenBack) return null
    const { row } = lastRecorded
    if ('drawnOn' in lastRecorded) {
      const { drawnOn, before } = lastRecorded
      const photo = row.photos.find(({ id }) => id === drawnOn)
      if (photo) add(keptDrawing(before, { photo, title: row.check.title, sheet }))
      setLast({ check: row.check.key, drawnOn, before, takenBack: true })
      return row.check
    }
    if ('photo' in lastRecorded) {
      const { photo } = lastRecorded
      add(keptPhotoBack({ id: photo, title: row.check.title }, { sheet }))
      setLast({ check: row.check.key, photo, takenBack: true })
      return row.check
    }
    const { reading } = lastRecorded
    const earlier = row.readings.find(({ id }) => id === reading.supersedes)
    const said = earlier ? putBack(earlier, reading, toolsOf(row)) : takenBack(reading, 'Undone at once')
    end(row, reading, { said, held: earlier?.conditions ?? [] })
    return row.check
  }

  function end({ check }: SeenCheck, reading: SeenReading, by: { said: Said; held: readonly Condition[] }) {
    add(keptReading(by.said, { sheet, check, now: new Date(), holding: by.held }))
    setLast({ check: check.key, reading, takenBack: true })
  }

  function toolsOf({ check }: SeenCheck) {
    return check.sort === 'measured' ? toolsFor(check, sheet.instruments) : []
  }

  const lastRow = last && rowIn(seen, last.check)
  const lastRecorded: LastRecorded | null = last && lastRow ? { ...last, row: lastRow } : null

  return {
    seen,
    state,
    holding,
    setHolding,
    last: lastRecorded,
    record,
    takeBack,
    undo,
    setLimit(check: CheckShown, figures: LimitFigures) {
      add(keptLimit(figures, { sheet, check, now: new Date() }))
    },
    addPhoto(check: CheckShown, bytes: Blob) {
      const kept = keptPhoto(bytes, { sheet, check, now: new Date() })
      add(kept)
      setLast({ check: check.key, photo: kept.id, takenBack: false })
    },
    /** `photo` is as it was seen when the drawing began: what others did since is not drawn over. */
    draw(check: CheckShown, photo: SeenPhoto, marks: readonly PhotoMark[]) {
      add(keptDrawing(marks, { photo, title: check.title, sheet }))
      setLast({ check: check.key, drawnOn: photo.id, before: photo.marks, takenBack: false })
    },
    putAway: (id: string) => (madeHere ? madeHere.putAway(id) : outbox().forget([id])),
  }
}

/** What can no longer be taken to hold once this was answered. */
function deniedBy(check: CheckShown, said: Said): Condition | undefined {
  if (check.sort !== 'look' || said.kind !== 'answer') return undefined
  return check.answers.find(({ key }) => key === said.value)?.denies
}

export type Recording = ReturnType<typeof useRecording>

export function rowIn(seen: SeenSheet, key: string | null): SeenCheck | null {
  return seen.rounds.flatMap(({ checks }) => checks).find(({ check }) => check.key === key) ?? null
}

/** Ids of drawings that somebody else was before, as this very page has learned from the server. */
function useUnaware(sheet: Sheet | null, { entries }: OutboxState): readonly string[] {
  const unsentBefore = useRef(new Set<string>())
  useEffect(() => {
    for (const entry of entries) if (isUnsent(entry)) unsentBefore.current.add(entry.kept.id)
  })
  return sheet ? drawnUnaware(sheet, entries).filter((id) => unsentBefore.current.has(id)) : []
}

/**
 * Once everything has gone out the page is read again, so that what it shows is the server's word; what the
 * server shows by then is taken out of the outbox.
 */
function useArrivals(
  sheet: Sheet | null,
  state: OutboxState,
  forget: (ids: readonly string[]) => void,
): void {
  const router = useRouter()
  // A page made here takes out by itself what has arrived.
  const arrivals = useMemo(() => (sheet ? arrivalsOn(sheet, state.entries) : none), [sheet, state.entries])
  const [toForget, missing] = [arrivals.gone.join(), arrivals.missing.join()]
  const unaware = useUnaware(sheet, state).join()
  // What an earlier page sent is no reason: without a network the page could not be read again.
  const heardHere = state.confirmed > 0 || unaware !== ''
  const quiet = heardHere && state.trouble === null && !state.entries.some(isUnsent)

  useEffect(() => {
    if (toForget !== '') forget(toForget.split(','))
  })
  useEffect(() => {
    if (missing + unaware !== '' && quiet && navigator.onLine) startTransition(() => router.refresh())
  }, [missing, unaware, quiet, router])
}

const none = { gone: [], missing: [] }
