'use client'

import { useState } from 'react'
import { standing } from '../../../../../lib/core/checks/reading'
import { formatDay, formatInstant, formatNumber } from '../../../../_ui/formats'
import type { SeenCheck, SeenReading } from './as-seen-here'
import { readingWords } from './reading-words'
import { conditionSaid, takeBackReasons } from './round-words'

/** Every reading as it was taken. One that was corrected or taken back stays, struck out, with who did that. */
export function ReadingsTaken({
  row,
  zone,
  mayTakeBack,
  onCorrect,
  onTakeBack,
}: {
  row: SeenCheck
  zone: string
  /** Also what somebody else read. */
  mayTakeBack: boolean
  onCorrect: (reading: SeenReading) => void
  onTakeBack: (reading: SeenReading, because: string) => void
}) {
  const [asking, setAsking] = useState<string | null>(null)
  return (
    <section aria-label="Readings taken" className="border-t border-rule pt-2">
      <h3>Taken so far</h3>
      <ul className="flex flex-col">
        {taken(row).map(({ reading, ended }) => {
          const words = readingWords(row.check, reading)
          return (
            <li key={reading.id} className="flex flex-col gap-2 border-b border-rule py-2 last:border-0">
              <div className="flex flex-wrap items-center justify-between gap-x-3 gap-y-2">
                <span className="min-w-0 grow basis-44">
                  <Words words={words} ended={ended} zone={zone} />
                  {reading.position && ` · ${positionLabel(row, reading.position)}`}
                  <span className="block text-soft">{detailsOf(reading, zone)}</span>
                </span>
                {!ended && (
                  <span className="flex gap-2">
                    <button type="button" className="btn-quiet" onClick={() => onCorrect(reading)}>
                      Correct<span className="sr-only"> {words}</span>
                    </button>
                    {(reading.mine || mayTakeBack) && (
                      <button
                        type="button"
                        className="btn-quiet"
                        aria-expanded={asking === reading.id}
                        onClick={() => setAsking(asking === reading.id ? null : reading.id)}
                      >
                        Take back<span className="sr-only"> {words}</span>
                      </button>
                    )}
                  </span>
                )}
              </div>
              {asking === reading.id && !ended && (
                <fieldset className="border-l-8 border-accent bg-wash p-3">
                  <legend className="sr-only">Why {words} is taken back</legend>
                  <p>Why does it not count? It stays in the record, struck out.</p>
                  <div className="mt-2 flex flex-wrap gap-2">
                    {takeBackReasons.map((because) => (
                      <button
                        key={because}
                        type="button"
                        className="btn-quiet"
                        onClick={() => {
                          setAsking(null)
                          onTakeBack(reading, because)
                        }}
                      >
                        {because}
                      </button>
                    ))}
                  </div>
                </fieldset>
              )}
            </li>
          )
        })}
      </ul>
    </section>
  )
}

type Taken = { reading: SeenReading; ended: SeenReading | null }

/** Each reading, with the one that ended it where it no longer counts: a correction or its being taken back. */
export function taken({ readings }: Pick<SeenCheck, 'readings'>): Taken[] {
  const counting = new Set(standing(readings).map(({ id }) => id))
  return readings
    .filter(({ kind }) => kind !== 'withdrawn')
    .map((reading) => ({
      reading,
      ended: counting.has(reading.id) ? null : (readings.find((r) => r.supersedes === reading.id) ?? null),
    }))
}

/** What was read; where it no longer counts struck out, with by whom and why. */
export function Words({ words, ended, zone }: { words: string; ended: SeenReading | null; zone: string }) {
  if (!ended) return <strong>{words}</strong>
  return (
    <>
      <s>{words}</s> {endedWords(ended, zone)}
    </>
  )
}

function endedWords(by: SeenReading, zone: string): string {
  const when = `by ${by.who}, ${formatInstant(by.takenAt, zone)}`
  return by.kind === 'withdrawn' ? `taken back ${when} (${by.value})` : `corrected ${when}`
}

function positionLabel({ check }: SeenCheck, position: string): string {
  const known = check.sort === 'measured' ? check.positions.find(({ key }) => key === position) : undefined
  return known?.label ?? position
}

/** Who, when, with what, and what held: what makes a reading more than a number. */
export function detailsOf(reading: SeenReading, zone: string): string {
  const { who, takenAt, conditions, note, onItsWay, engineSpeed } = reading
  return [
    who,
    formatInstant(takenAt, zone),
    instrumentWords(reading),
    engineSpeed && `at ${formatNumber(engineSpeed, 0)} rpm`,
    ...conditions.map((condition) => conditionSaid[condition].toLowerCase()),
    note,
    onItsWay ? 'on its way' : null,
  ]
    .filter(Boolean)
    .join(' · ')
}

function instrumentWords({ instrument, takenAt }: SeenReading): string | null {
  if (!instrument) return null
  const { name, calibrationDue: due } = instrument
  return due && takenAt.slice(0, 10) > due ? `${name} (calibration ran out on ${formatDay(due)})` : name
}
