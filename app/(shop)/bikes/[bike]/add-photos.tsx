'use client'

import { useRouter } from 'next/navigation'
import { startTransition, useEffect, useState } from 'react'
import { uuidv7 } from 'uuidv7'
import type { Entry, Kept } from '../../../_ui/outbox/outbox'
import { useOutbox } from '../../../_ui/outbox/use-outbox'
import { stateWords } from '../../../_ui/outbox/words'
import { shrunk } from '../../../_ui/shrink-photo'

/** What a photo can be taken of beside the whole bike. */
export type Subject = { fault: string; title: string }

/**
 * The camera or photos of this device, for the whole bike or for one of its faults. Each is kept on this device, made
 * smaller, and sent on its own, so that one that is refused stops no other.
 */
export function AddPhotos({
  bike,
  person,
  arrived,
  subjects = [],
  subject = null,
}: {
  bike: string
  person: string
  /** Ids of the photos that the page shows already. */
  arrived: readonly string[]
  subjects?: readonly Subject[]
  /** The fault chosen to begin with. */
  subject?: string | null
}) {
  const { state, outbox } = useOutbox(person)
  const [fault, setFault] = useState(subject ?? '')
  const router = useRouter()
  const mine = state.entries.filter(({ kept }) => kept.to === 'photos' && kept.facts.bike === bike)
  const sent = mine.filter((entry) => entry.state === 'sent').map(({ kept }) => kept.id)
  const shown = sent.filter((id) => arrived.includes(id)).join()
  const missing = sent.filter((id) => !arrived.includes(id)).join()

  useEffect(() => {
    if (shown !== '') outbox().forget(shown.split(','))
  })
  useEffect(() => {
    if (missing !== '') startTransition(() => router.refresh())
  }, [missing, router])

  async function choose(input: HTMLInputElement) {
    const takenAt = new Date().toISOString()
    const title = subjects.find((one) => one.fault === fault)?.title
    // Read at once: a browser may drop the file behind a chosen photo before it is sent.
    const files = await Promise.all(
      [...(input.files ?? [])].map(async (file) => ({
        name: file.name,
        bytes: new Blob([await file.arrayBuffer()], { type: file.type }),
      })),
    )
    input.value = ''
    for (const { name, bytes } of files) {
      const facts = { bike, takenAt, ...(title !== undefined && { fault }) }
      const label = title === undefined ? 'Photo of the bike' : `Photo of ${title}`
      const kept: Kept = {
        ...{ id: uuidv7(), author: person, to: 'photos', facts, label, typed: name },
        bytes: await shrunk(bytes),
      }
      outbox().add(kept)
    }
  }

  return (
    <div className="no-print flex flex-col gap-3">
      <ul aria-live="polite" className="flex flex-col gap-2 empty:hidden">
        {mine
          .filter((entry) => entry.state !== 'sent')
          .map((entry) => (
            <OneSending key={entry.kept.id} entry={entry} putAway={(id) => outbox().forget([id])} />
          ))}
      </ul>
      {subjects.length > 0 && (
        <label className="flex flex-col gap-1">
          <span className="font-semibold">What the next photo shows</span>
          <select
            className="field-box"
            value={fault}
            onChange={(event) => setFault(event.currentTarget.value)}
          >
            <option value="">The whole bike</option>
            {subjects.map((one) => (
              <option key={one.fault} value={one.fault}>
                {one.title}
              </option>
            ))}
          </select>
        </label>
      )}
      <label className="btn-quiet self-start has-focus-visible:outline-3 has-focus-visible:outline-ink">
        <input
          type="file"
          accept="image/jpeg,image/png,image/webp"
          multiple
          className="sr-only"
          onChange={(event) => void choose(event.currentTarget)}
        />
        Add photos
      </label>
    </div>
  )
}

function OneSending({ entry, putAway }: { entry: Entry; putAway: (id: string) => void }) {
  const { id, typed } = entry.kept
  return (
    <li className="flex flex-wrap items-center gap-3">
      <span>
        {typed}: {entry.state === 'refused' ? entry.refused.message : stateWords(entry)}
      </span>
      {entry.state === 'refused' && (
        <button type="button" className="btn-quiet" onClick={() => putAway(id)}>
          Leave {typed} out
        </button>
      )}
    </li>
  )
}
