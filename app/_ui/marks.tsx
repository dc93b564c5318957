import type { ReactNode } from 'react'
import type { Call } from '../../lib/core/checks/catalogue'
import type { VerdictWord } from '../../lib/core/checks/judge'
import type { PartStanding } from '../../lib/core/work/parts'

/*
 * A mark is a word with a shape beside it. The shape of a verdict is a reading (the dot) beside its limits
 * (the posts), so that it can be understood without being learned.
 */

type Tone = 'blue' | 'plum' | 'ochre' | 'grey'

const tones: Record<Tone, string> = {
  blue: 'border-blue bg-blue-wash text-blue',
  plum: 'border-plum bg-plum-wash text-plum',
  ochre: 'border-ochre bg-ochre-wash text-ochre',
  grey: 'border-grey bg-grey-wash text-grey',
}

const posts = <path d="M5 3v18M19 3v18" />

const verdictMarks: Record<VerdictWord, { word: string; tone: Tone; shape: ReactNode }> = {
  within: {
    word: 'Within',
    tone: 'blue',
    shape: (
      <>
        {posts}
        <circle cx="12" cy="12" r="3.5" fill="currentColor" stroke="none" />
      </>
    ),
  },
  outside: {
    word: 'Outside',
    tone: 'plum',
    shape: (
      <>
        <path d="M3 3v18M14 3v18" />
        <circle cx="20" cy="12" r="3.5" fill="currentColor" stroke="none" />
      </>
    ),
  },
  'too-close': {
    word: 'Too close to call',
    tone: 'ochre',
    shape: (
      <>
        <path d="M5 3v18M16 3v18" />
        <circle cx="16" cy="12" r="4" fill="currentColor" stroke="none" />
      </>
    ),
  },
  'not-judged': {
    word: 'Not judged',
    tone: 'grey',
    shape: <circle cx="12" cy="12" r="4" fill="none" />,
  },
  'not-checked': {
    word: 'Not checked',
    tone: 'grey',
    shape: <path d="M5 5h14v14H5Z" fill="none" strokeDasharray="3 2.6" />,
  },
  'does-not-apply': {
    word: 'Does not apply',
    tone: 'grey',
    shape: <path d="M5 12h14" />,
  },
}

/** The verdict on a check, by word, then shape, then colour. */
export function VerdictMark({ verdict }: { verdict: VerdictWord }) {
  return <Mark {...verdictMarks[verdict]} />
}

const callMarks: Record<Call, { word: string; tone: Tone; shape: ReactNode }> = {
  stop: {
    word: 'Stop',
    tone: 'plum',
    shape: <path d="M8 2h8l6 6v8l-6 6H8l-6-6V8Z" fill="currentColor" stroke="none" />,
  },
  must: {
    word: 'Must',
    tone: 'ochre',
    shape: <path d="M4 4h16v16H4Z" fill="currentColor" stroke="none" />,
  },
  pays: {
    word: 'Pays',
    tone: 'blue',
    shape: (
      <>
        <path d="M12 2.5 21.5 12 12 21.5 2.5 12Z" fill="none" />
        <path d="M12 2.5 21.5 12 12 21.5Z" fill="currentColor" />
      </>
    ),
  },
  leave: {
    word: 'Leave',
    tone: 'grey',
    shape: <circle cx="12" cy="12" r="8.5" fill="none" />,
  },
}

/** What a fault demands. `count` puts a number before the word: "2 must". */
export function CallMark({ call, count }: { call: Call; count?: number }) {
  const { word, ...mark } = callMarks[call]
  return <Mark {...mark} word={count === undefined ? word : `${count} ${word.toLowerCase()}`} />
}

const box = <path d="M3 8v13h18V8" fill="none" />

/** A box that a part is to lie in: empty, with the part coming, filled, crossed out. */
const partMarks: Record<PartStanding['state'], { word: string; tone: Tone; shape: ReactNode }> = {
  'to order': { word: 'To order', tone: 'ochre', shape: box },
  ordered: {
    word: 'On its way',
    tone: 'grey',
    shape: (
      <>
        {box}
        <path d="M12 2v12M8 10.5l4 4 4-4" fill="none" />
      </>
    ),
  },
  arrived: {
    word: 'In the box',
    tone: 'blue',
    shape: (
      <>
        {box}
        <path d="M6 11h12v7H6Z" fill="currentColor" stroke="none" />
      </>
    ),
  },
  wrong: {
    word: 'Came wrong',
    tone: 'plum',
    shape: (
      <>
        {box}
        <path d="M7 4l10 12M17 4 7 16" />
      </>
    ),
  },
  never: {
    word: 'Will not come',
    tone: 'plum',
    shape: (
      <>
        {box}
        <path d="M2 22 22 3" />
      </>
    ),
  },
}

/** How far a part has come. */
export function PartMark({ state }: { state: PartStanding['state'] }) {
  return <Mark {...partMarks[state]} />
}

const stageMarks: Record<string, { word: string; steps: number }> = {
  viewing: { word: 'Viewing', steps: 0 },
  offered: { word: 'Offered', steps: 1 },
  bought: { word: 'Bought', steps: 2 },
  'on the bench': { word: 'On the bench', steps: 3 },
  'waiting for a decision': { word: 'Waiting for a decision', steps: 3 },
  ready: { word: 'Ready', steps: 4 },
  reserved: { word: 'Reserved', steps: 5 },
  sold: { word: 'Sold', steps: 6 },
  'passed up': { word: 'Passed up', steps: -1 },
}

/** How a stage is called on screen. */
export function stageWord(stage: string): string {
  return stageMarks[stage]?.word ?? stage
}

/** Where a bike is on its way: the bar fills from left to right, one that was passed up is struck through. */
export function StageMark({ stage }: { stage: string }) {
  const steps = stageMarks[stage]?.steps ?? 0
  return (
    <span className="inline-flex items-center gap-2 whitespace-nowrap font-semibold">
      <svg aria-hidden="true" viewBox="0 0 38 14" width="38" height="14" className="shrink-0">
        <rect x="1" y="1" width="36" height="12" fill="none" stroke="currentColor" strokeWidth="2" />
        {steps > 0 && <rect x="1" y="1" width={steps * 6} height="12" fill="currentColor" />}
        {steps < 0 && <path d="M1 13 37 1" stroke="currentColor" strokeWidth="2" />}
      </svg>
      {stageWord(stage)}
    </span>
  )
}

function Mark({ word, tone, shape }: { word: string; tone: Tone; shape: ReactNode }) {
  return (
    <span
      className={`inline-flex items-center gap-1.5 whitespace-nowrap rounded-sheet border px-2 py-0.5
        font-semibold ${tones[tone]}`}
    >
      <svg
        aria-hidden="true"
        viewBox="0 0 24 24"
        width="18"
        height="18"
        stroke="currentColor"
        strokeWidth="2.4"
        className="shrink-0"
      >
        {shape}
      </svg>
      {word}
    </span>
  )
}
