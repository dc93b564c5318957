'use client'

import { type ReactNode, type Ref, useState } from 'react'
import type { Condition, Round } from '../../../../../lib/core/checks/catalogue'
import type { PhotoMark } from '../../../../../lib/shop/photo-marks'
import type { CheckShown, Sheet } from '../../../../../lib/shop/read-sheet'
import { isOpen, lacksPositions } from '../../../../../lib/shop/round-progress'
import { Disclosure } from '../../../../_ui/disclosure'
import { CallMark, VerdictMark } from '../../../../_ui/marks'
import { Caution } from '../../../../_ui/notes'
import type { SeenCheck, SeenReading } from './as-seen-here'
import { CodeKeys, ReadInWords } from './code-keys'
import { DisputedNote } from './disputed-note'
import { Lacking } from './lacking'
import { LimitForm } from './limit-form'
import { LimitsHere } from './limits-here'
import { MeasureKeys } from './measure-keys'
import { NumberKeys } from './number-keys'
import { PhotosOfCheck } from './photos-of-check'
import type { SeenPhoto } from './photos-seen'
import { readingWords, saysBeside } from './reading-words'
import { ReadingsTaken } from './readings-taken'
import { LookTiles } from './record-look'
import type { LimitFigures, Said } from './recording'
import { roundWords, sellerDidIt } from './round-words'
import { SkipCheck } from './skip-check'
import { VerdictAdvice } from './verdict-advice'

/** What the person asked for although the check has its readings. */
type Asked = {
  correcting: SeenReading | null
  /** Places read since it was asked for, so that a second sweep leads round all of them too. */
  swept: readonly (string | null)[]
}

const again: Asked = { correcting: null, swept: [] }

function goOn(check: CheckShown, swept: Asked['swept']): Asked | null {
  const places = check.sort === 'measured' ? check.positions : []
  return places.some(({ key }) => !swept.includes(key)) ? { correcting: null, swept } : null
}

/** One check: what to mind, how to do it, what it came to, and the place to record it. */
export function CheckPanel({
  row,
  shut,
  sheet,
  holding,
  heading,
  place,
  next,
  onRecord,
  onLimit,
  onPhoto,
  onDraw,
  onHold,
  onTakeBack,
}: {
  row: SeenCheck
  shut: boolean
  sheet: Pick<Sheet, 'asOf' | 'zone' | 'instruments' | 'person' | 'bike'>
  holding: readonly Condition[]
  heading: Ref<HTMLHeadingElement>
  /** Where in the round one is, in words. */
  place: string
  next: ReactNode
  onRecord: (said: Said) => void
  onLimit: (figures: LimitFigures) => void
  onPhoto: (bytes: Blob) => void
  onDraw: (photo: SeenPhoto, marks: readonly PhotoMark[]) => void
  onHold: (condition: Condition) => void
  onTakeBack: (reading: SeenReading, because: string) => void
}) {
  const [asked, setAsked] = useState<Asked | null>(null)
  const [note, setNote] = useState('')
  const { check, judgement } = row
  const waiting = isOpen(judgement)
  // A place already outside does not end the sweep: the others are measured while the tool is in the hand.
  const wanted = waiting || lacksPositions(judgement) || row.staleDays !== null
  const taking = asked ?? (wanted ? again : null)

  /** The note belongs to this one reading. Correcting ends with it; measuring again goes round all the places. */
  function record(said: Said) {
    onRecord({ ...said, note: note.trim() || null, supersedes: taking?.correcting?.id ?? null })
    setAsked(asked && !asked.correcting ? goOn(check, [...asked.swept, said.position ?? null]) : null)
    setNote('')
  }

  return (
    <article
      aria-labelledby="check-title"
      className="sheet grid min-w-0 items-start gap-x-6 gap-y-4 md:grid-cols-2"
    >
      <div className="flex min-w-0 flex-col gap-4">
        <div>
          <p className="text-soft">
            {place}
            {check.safety && (
              <>
                {' · '}
                <strong className="text-ink">Safety check</strong>
              </>
            )}
          </p>
          <h2 id="check-title" ref={heading} tabIndex={-1} className="scroll-mt-24 text-2xl">
            {check.title}
          </h2>
        </div>
        {row.cautions.map(({ title, says }) => (
          <Caution key={title} title={title}>
            {says}
          </Caution>
        ))}
        <How row={row} shut={shut} />
        {check.sort === 'measured' && (
          <>
            <LimitsHere row={row} bike={sheet.bike} />
            <LimitForm check={check} onLimit={onLimit} />
          </>
        )}
      </div>
      <div className="flex min-w-0 flex-col gap-4">
        {(!waiting || lacksPositions(judgement)) && <Outcome row={row} />}
        <DisputedNote row={row} zone={sheet.zone} />
        <VerdictAdvice row={row} own={sheet.instruments} />
        {!waiting && <InWords row={row} />}
        {!wanted && !asked && next}
        {taking && (
          <div className="flex flex-col gap-3">
            {taking.correcting && (
              <p className="border-l-8 border-accent bg-wash p-2">
                This takes the place of <strong>{readingWords(check, taking.correcting)}</strong>, which stays
                in the record.
              </p>
            )}
            {asked && !taking.correcting && check.sort === 'measured' && (
              <p className="border-l-8 border-accent bg-wash p-2">
                Measured again at one place on one day, the readings are averaged.
              </p>
            )}
            <Lacking check={check} holding={holding} onHold={onHold} />
            {shut && (
              <label className="tile items-center">
                <input
                  type="checkbox"
                  checked={note === sellerDidIt}
                  onChange={(event) => setNote(event.target.checked ? sellerDidIt : '')}
                />
                <span className="font-semibold">{sellerDidIt}</span>
              </label>
            )}
            <Recorder
              key={taking.correcting?.id ?? 'new'}
              row={row}
              sheet={sheet}
              correcting={taking.correcting}
              swept={taking.swept}
              onRecord={record}
            />
            {asked && (
              <button type="button" className="btn-quiet" onClick={() => setAsked(null)}>
                {asked.swept.length > 0 ? 'Enough measured again' : 'Leave it as it is'}
              </button>
            )}
          </div>
        )}
        {row.readings.length > 0 && (
          <ReadingsTaken
            row={row}
            zone={sheet.zone}
            mayTakeBack={sheet.person.mayClear}
            onCorrect={(correcting) => setAsked({ correcting, swept: [] })}
            onTakeBack={onTakeBack}
          />
        )}
        {!waiting && taking && !asked && next}
        <div className="flex flex-col gap-2 border-t border-rule pt-3">
          {!taking && (
            <button type="button" className="btn-quiet" onClick={() => setAsked(again)}>
              {check.sort === 'measured' ? 'Measure again' : 'Check again'}
            </button>
          )}
          <PhotosOfCheck row={row} zone={sheet.zone} onPhoto={onPhoto} onDraw={onDraw} />
          {taking && <NoteField note={note} onChange={setNote} />}
          <SkipCheck onSkip={(because) => onRecord({ kind: 'skipped', value: because })} />
        </div>
      </div>
    </article>
  )
}

function How({ row: { check }, shut }: { row: SeenCheck; shut: boolean }) {
  const needs = check.needs.length > 0 ? `Needs: ${check.needs.join(', ')}. ` : ''
  return (
    <div className="flex flex-col gap-1">
      {check.how === null || shut ? (
        <p className="font-semibold">How to do it is held back while this round is shut.</p>
      ) : (
        <ol className="list-decimal pl-6">
          {check.how.map((step) => (
            <li key={step}>{step}</li>
          ))}
        </ol>
      )}
      <p className="text-soft">
        {needs}About {check.minutes < 1 ? 'half a minute' : `${check.minutes} min`}.
      </p>
    </div>
  )
}

/** The verdict in words, whose it is so far, and what it raises. */
function Outcome({ row }: { row: SeenCheck }) {
  const { judgement, faults, newStops } = row
  return (
    <div className="flex flex-col gap-2">
      <p className="flex flex-wrap items-center gap-x-3 gap-y-1">
        <VerdictMark verdict={judgement.verdict} />
        <span>{saysBeside(judgement)}</span>
      </p>
      {row.judgedHere && <p className="text-soft">As judged on this device; on its way to the server.</p>}
      {faults.map(({ fault, title, means, call }) => (
        <p key={fault}>
          <CallMark call={call} /> <strong>{title}.</strong> {means}
        </p>
      ))}
      {newStops.map(({ fault, title, rounds }) => (
        <p key={fault}>
          <CallMark call="stop" /> <strong>{title}.</strong> {shutWords(rounds)}
        </p>
      ))}
    </div>
  )
}

function shutWords(rounds: readonly Round[]): string {
  const names = rounds.map((round) => roundWords[round].name.toLowerCase())
  return `The ${names.join(' and the ')} round ${names.length > 1 ? 'are' : 'is'} shut.`
}

/** From what a code says to the page that says all of it. */
function InWords({ row: { check, judgement, readings } }: { row: SeenCheck }) {
  const typed = readings.find(({ id }) => judgement.readings.includes(id))?.value
  if (check.sort !== 'code' || check.code === 'done-on' || typed === undefined) return null
  return check.code === 'tyre-size' ? <ReadInWords marking={typed} /> : <ReadInWords code={typed} />
}

type RecorderProps = {
  row: SeenCheck
  sheet: Pick<Sheet, 'asOf' | 'instruments'>
  correcting: SeenReading | null
  swept: Asked['swept']
  onRecord: (said: Said) => void
}

function Recorder({ row, sheet, correcting, swept, onRecord }: RecorderProps) {
  const { check } = row
  switch (check.sort) {
    case 'look':
      return <LookTiles check={check} onRecord={onRecord} />
    case 'measured':
      return (
        <MeasureKeys
          row={row}
          check={check}
          own={sheet.instruments}
          asOf={sheet.asOf}
          correcting={correcting}
          swept={swept}
          onRecord={onRecord}
        />
      )
    case 'code':
      return <CodeKeys check={check} asOf={sheet.asOf} onRecord={onRecord} />
    case 'number':
      return <NumberKeys check={check} onRecord={onRecord} />
  }
}

function NoteField({ note, onChange }: { note: string; onChange: (note: string) => void }) {
  return (
    <Disclosure summary={<span className="font-semibold">Add a note to the reading</span>}>
      <label className="flex flex-col gap-1">
        <span className="text-soft">Write it first: it goes with the next reading.</span>
        <input
          value={note}
          maxLength={500}
          autoComplete="off"
          onChange={(event) => onChange(event.target.value)}
          className="field-box"
        />
      </label>
    </Disclosure>
  )
}
