'use client'

import { type MouseEvent, type ReactNode, useState } from 'react'
import { FieldNotes } from '../../../../../_ui/field'
import { useFormField } from '../../../../../_ui/form-context'
import { MarkedPhoto, type MarkShape, marksInWords } from '../../../../../_ui/marked-photo'
import { SubmitButton } from '../../../../../_ui/submit-button'
import { drawn, inTheMiddle, moved, type Point, placeIn, resized, step, type Tool, turned } from './drawing'

const mostMarks = 20
const tools: readonly { tool: Tool; label: string }[] = [
  { tool: 'arrow', label: 'Arrow' },
  { tool: 'circle', label: 'Circle' },
]
const nudges: readonly { label: string; sign: string; by: Point }[] = [
  { label: 'Left', sign: '←', by: { x: -step, y: 0 } },
  { label: 'Up', sign: '↑', by: { x: 0, y: -step } },
  { label: 'Down', sign: '↓', by: { x: 0, y: step } },
  { label: 'Right', sign: '→', by: { x: step, y: 0 } },
]

type Drawing = { marks: readonly MarkShape[]; chosen: number | null }

/** Two taps draw a mark; buttons draw, move, turn, size and take away too. Nothing is kept until it is saved. */
export function MarkEditor({
  src,
  width,
  height,
  stored,
  children,
}: {
  src: string
  width: number
  height: number
  /** The marks as stored, as JSON. */
  stored: string
  /** Beside the button that saves. */
  children?: ReactNode
}) {
  const field = useFormField('marks', stored)
  const [now, setNow] = useState<Drawing>(() => ({ marks: marksIn(field.typed), chosen: null }))
  const [before, setBefore] = useState<readonly Drawing[]>([])
  const [tool, setTool] = useState<Tool>('arrow')
  const [from, setFrom] = useState<Point | null>(null)
  const size = { width, height }
  const { marks, chosen } = now
  const mark = chosen === null ? undefined : marks[chosen]
  const full = marks.length >= mostMarks

  function change(next: Drawing) {
    setBefore((all) => [...all, now])
    setNow(next)
    setFrom(null)
  }
  const add = (one: MarkShape) => change({ marks: [...marks, one], chosen: marks.length })
  const put = (one: MarkShape) =>
    change({ marks: marks.map((other, index) => (index === chosen ? one : other)), chosen })

  function tap(event: MouseEvent<HTMLButtonElement>) {
    // A press of a key has no place of its own; the middle is then as good as any.
    if (event.detail === 0) {
      if (!full) add(inTheMiddle(tool))
      return
    }
    if (full) return
    const picture = event.currentTarget.querySelector('svg') ?? event.currentTarget
    const at = placeIn(picture.getBoundingClientRect(), size, { x: event.clientX, y: event.clientY })
    if (from) add(drawn(tool, from, at, size))
    else setFrom(at)
  }

  function undo() {
    if (from) return setFrom(null)
    const last = before.at(-1)
    if (!last) return
    setNow(last)
    setBefore(before.slice(0, -1))
  }

  const hint: MarkShape[] = from ? [{ kind: 'circle', x: from.x, y: from.y, radius: 0.012 }] : []
  return (
    <div className="grid items-start gap-6 lg:grid-cols-[minmax(0,2fr)_minmax(0,1fr)]">
      <input type="hidden" name="marks" value={JSON.stringify(marks)} />
      <button type="button" onClick={tap} className="block w-full cursor-crosshair border-2 border-edge p-0">
        <MarkedPhoto
          src={src}
          alt={`The photo. ${marksInWords(marks) || 'No marks'}. Press to draw ${tool === 'arrow' ? 'an arrow' : 'a circle'}`}
          {...size}
          marks={[...marks, ...hint]}
          chosen={chosen}
          className="max-h-[55dvh] w-full"
        />
      </button>
      <div className="flex flex-col gap-4">
        <p aria-live="polite">{sayNext({ full, from, tool })}</p>
        <Row label="Draw">
          {tools.map((one) => (
            <button
              key={one.tool}
              type="button"
              aria-pressed={tool === one.tool}
              onClick={() => setTool(one.tool)}
              className={tool === one.tool ? 'btn' : 'btn-quiet'}
            >
              {one.label}
            </button>
          ))}
          <button type="button" className="btn-quiet" disabled={full} onClick={() => add(inTheMiddle(tool))}>
            Put one in the middle
          </button>
        </Row>
        {marks.length > 0 && (
          <Row label="Choose a mark">
            {marks.map((one, index) => (
              <button
                // biome-ignore lint/suspicious/noArrayIndexKey: a mark is nothing but its place in the list.
                key={index}
                type="button"
                aria-pressed={index === chosen}
                onClick={() => setNow({ marks, chosen: index === chosen ? null : index })}
                className={index === chosen ? 'btn' : 'btn-quiet'}
              >
                {one.kind === 'arrow' ? 'Arrow' : 'Circle'} {index + 1}
              </button>
            ))}
          </Row>
        )}
        {mark && (
          <Row label="Move, size, take away">
            {nudges.map(({ label, sign, by }) => (
              <button
                key={label}
                type="button"
                aria-label={label}
                className="btn-quiet min-w-14"
                onClick={() => put(moved(mark, by))}
              >
                <span aria-hidden="true">{sign}</span>
              </button>
            ))}
            <button type="button" className="btn-quiet" onClick={() => put(resized(mark, 1.2))}>
              Larger
            </button>
            <button type="button" className="btn-quiet" onClick={() => put(resized(mark, 1 / 1.2))}>
              Smaller
            </button>
            {mark.kind === 'arrow' && (
              <button type="button" className="btn-quiet" onClick={() => put(turned(mark, size))}>
                Turn
              </button>
            )}
            <button
              type="button"
              className="btn-quiet"
              onClick={() => change({ marks: marks.filter((_, index) => index !== chosen), chosen: null })}
            >
              Take it away
            </button>
          </Row>
        )}
        <div className="in-reach flex flex-wrap gap-2 border-t border-rule bg-sheet py-2">
          <SubmitButton>Save the marks</SubmitButton>
          <button type="button" className="btn-quiet" disabled={before.length === 0 && !from} onClick={undo}>
            Undo
          </button>
          {children}
        </div>
        <FieldNotes name="marks" />
      </div>
    </div>
  )
}

function Row({ label, children }: { label: string; children: ReactNode }) {
  return (
    <fieldset className="flex flex-wrap gap-2">
      <legend className="mb-1 font-semibold">{label}</legend>
      {children}
    </fieldset>
  )
}

function sayNext({ full, from, tool }: { full: boolean; from: Point | null; tool: Tool }): string {
  if (full) return `There are ${mostMarks} marks, which is the most. Take one away to draw another.`
  if (tool === 'arrow') return from ? 'Now tap what it points at.' : 'Tap where the arrow begins.'
  return from ? 'Now tap where the circle ends.' : 'Tap the middle of the circle.'
}

/** What stood in the form; what cannot be read begins empty, and the message at the field says so. */
function marksIn(text: string): readonly MarkShape[] {
  try {
    const read: unknown = JSON.parse(text)
    return Array.isArray(read) ? (read as MarkShape[]) : []
  } catch {
    return []
  }
}
