'use client'

import { useRouter } from 'next/navigation'
import { useState } from 'react'
import { uuidv7 } from 'uuidv7'
import type { PhotoShown } from '../../../../lib/shop/read-bike'
import { formatInstant } from '../../../_ui/formats'

type Sending = {
  id: string
  file: File
  takenAt: string
  state: 'on its way' | 'failed'
  problem: string | null
}

/** Photos of the bike, and the camera. Each is sent on its own, so that one that is refused stops no other. */
export function Photos({
  bike,
  zone,
  photos,
}: {
  bike: string
  zone: string
  photos: readonly PhotoShown[]
}) {
  const router = useRouter()
  const [sending, setSending] = useState<readonly Sending[]>([])

  const change = (id: string, to: Partial<Sending> | null) =>
    setSending((all) =>
      to === null
        ? all.filter((one) => one.id !== id)
        : all.map((one) => (one.id === id ? { ...one, ...to } : one)),
    )

  async function send(one: Sending) {
    change(one.id, { state: 'on its way', problem: null })
    const facts = new URLSearchParams({ id: one.id, bike, takenAt: one.takenAt })
    const problem = await sent(`/api/v1/photos?${facts}`, one.file)
    if (problem === null) {
      change(one.id, null)
      router.refresh()
    } else change(one.id, { state: 'failed', problem })
  }

  function choose(input: HTMLInputElement) {
    const chosen = [...(input.files ?? [])].map(
      (file): Sending => ({
        id: uuidv7(),
        file,
        takenAt: new Date().toISOString(),
        state: 'on its way',
        problem: null,
      }),
    )
    setSending((all) => [...all, ...chosen])
    for (const one of chosen) void send(one)
    input.value = ''
  }

  return (
    <div className="flex flex-col gap-4">
      {photos.length > 0 && (
        <ul className="grid grid-cols-2 gap-3 sm:grid-cols-4">
          {photos.map(({ id, caption, takenAt }) => (
            <li key={id}>
              <a href={`/api/v1/photos/${id}`} className="block border border-edge">
                {/* biome-ignore lint/performance/noImgElement: it is kept small already, and behind sign-in. */}
                <img
                  src={`/api/v1/photos/${id}?size=small`}
                  alt={caption || `Photo of ${formatInstant(takenAt, zone)}`}
                  className="aspect-4/3 w-full object-cover"
                />
              </a>
            </li>
          ))}
        </ul>
      )}
      {photos.length === 0 && sending.length === 0 && (
        <p className="no-print text-soft">None yet. The camera or photos kept on this device.</p>
      )}
      <ul aria-live="polite" className="flex flex-col gap-2 empty:hidden">
        {sending.map((one) => (
          <li key={one.id} className="flex flex-wrap items-center gap-3">
            <span>
              {one.file.name}: {one.problem ?? 'on its way …'}
            </span>
            {one.state === 'failed' && (
              <>
                <button type="button" className="btn-quiet" onClick={() => void send(one)}>
                  Send {one.file.name} again
                </button>
                <button type="button" className="btn-quiet" onClick={() => change(one.id, null)}>
                  Leave {one.file.name} out
                </button>
              </>
            )}
          </li>
        ))}
      </ul>
      <label className="btn-quiet no-print self-start has-focus-visible:outline-3 has-focus-visible:outline-ink">
        <input
          type="file"
          accept="image/jpeg,image/png,image/webp"
          multiple
          className="sr-only"
          onChange={(event) => choose(event.currentTarget)}
        />
        Add photos
      </label>
    </div>
  )
}

/** Null once the server has kept it, else a sentence that says what to do. */
async function sent(address: string, file: File): Promise<string | null> {
  try {
    const answer = await fetch(address, { method: 'POST', body: file })
    if (answer.ok) return null
    const told: unknown = await answer.json().catch(() => null)
    const message = (told as { refusal?: { message?: string } } | null)?.refusal?.message
    return message ?? 'not taken. Send it again.'
  } catch {
    return 'no network. Send it again when there is one.'
  }
}
