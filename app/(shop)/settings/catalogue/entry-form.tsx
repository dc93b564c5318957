import type { ReactNode } from 'react'
import type { Check } from '../../../../lib/core/checks/catalogue'
import type { EntryKind } from '../../../../lib/core/checks/catalogue-problems'
import type { Typed } from '../../../../lib/shop/catalogue-typed'
import { type CatalogueChoices, type EntryShown, headOf } from '../../../../lib/shop/read-catalogue'
import { CheckField, CheckGroup } from '../../../_ui/choice-fields'
import { type Choice, Field, SelectField, TextArea } from '../../../_ui/field'
import { formatInstant } from '../../../_ui/formats'
import { Sheet } from '../../../_ui/sheet'
import { StateMark } from './state-mark'

/** What the fields of a form rest on: an entry that is there, or what a new one may choose from. */
export type FormFacts = CatalogueChoices & {
  kind: EntryKind
  currency: string
  typed: Typed
  starting: Typed | null
  /** Null where it is new. */
  shown: EntryShown | null
  own: boolean
  /** A stop that only its job opens. */
  guarded: boolean
  /** Of a check: what sort it is. */
  sort: Check['sort'] | null
  /** The unit of a measured check. */
  unit: string
}

/** Fields that belong together, and whose their values are. */
export function Group({
  of,
  title,
  sub,
  heads,
  children,
}: {
  of: FormFacts
  title: string
  sub?: ReactNode
  /** Names of the fields up to their first dot. */
  heads: readonly string[]
  children: ReactNode
}) {
  return (
    <Sheet title={title} aside={<Whose of={of} heads={heads} />}>
      <div className="flex flex-col gap-4">
        {sub && <p className="text-soft">{sub}</p>}
        {children}
      </div>
    </Sheet>
  )
}

function Whose({ of, heads }: { of: FormFacts; heads: readonly string[] }) {
  const { shown, starting, own } = of
  if (!shown) return null
  const changed = heads.filter((head) => own || (starting && headChanged(of, head)))
  const last = heads
    .filter((head) => changed.includes(head))
    .flatMap((head) => shown.setBy[head] ?? [])
    .sort((a, b) => b.at.getTime() - a.at.getTime())[0]
  const note = last && `by ${last.by ?? 'somebody'}, ${formatInstant(last.at, shown.zone)}`
  return <StateMark state={own ? 'own' : changed.length > 0 ? 'changed' : 'starting'} note={note} />
}

function headChanged({ typed, starting }: FormFacts, head: string): boolean {
  const names = [...Object.keys(typed), ...Object.keys(starting ?? {})].filter(
    (name) => headOf(name) === head,
  )
  return names.some((name) => (typed[name] ?? '') !== (starting?.[name] ?? ''))
}

/** Beside a field that the shop set: what it was at first, in the words of its choices. */
export function startingNote(
  { typed, starting, shown }: FormFacts,
  name: string,
  words = (text: string) => text,
) {
  if (!shown || !starting || (typed[name] ?? '') === (starting[name] ?? '')) return null
  const text = starting[name] ?? ''
  return <>Starting value: {text === '' ? 'none' : words(text)}.</>
}

function hintOf(of: FormFacts, name: string, hint: ReactNode, words?: (text: string) => string): ReactNode {
  const note = startingNote(of, name, words)
  if (!note) return hint
  return (
    <>
      {hint} {note}
    </>
  )
}

type Given = { of: FormFacts; name: string; label: string; hint?: ReactNode; required?: boolean }

export function TextField({ of, unit, ...given }: Given & { unit?: string }) {
  const { name, hint } = given
  return (
    <Field
      {...given}
      unit={unit}
      hint={hintOf(of, name, hint)}
      defaultValue={of.typed[name] ?? ''}
      maxLength={400}
    />
  )
}

export function FigureField({ of, unit, ...given }: Given & { unit?: string }) {
  const { name, hint } = given
  return (
    <Field
      {...given}
      unit={unit}
      inputMode="decimal"
      hint={hintOf(of, name, hint)}
      defaultValue={of.typed[name] ?? ''}
    />
  )
}

export function LinesField({ of, rows, ...given }: Given & { rows?: number }) {
  const { name, hint } = given
  return <TextArea {...given} rows={rows} hint={hintOf(of, name, hint)} defaultValue={of.typed[name] ?? ''} />
}

export function ChoiceField({
  of,
  choices,
  empty,
  ...given
}: Given & { choices: readonly Choice[]; empty?: string }) {
  const { name, hint } = given
  const words = (text: string) => choices.find(({ value }) => value === text)?.label ?? text
  return (
    <SelectField
      {...given}
      choices={choices}
      empty={empty}
      hint={hintOf(of, name, hint, words)}
      defaultValue={of.typed[name] ?? ''}
    />
  )
}

export function TickField({ of, name, label, hint }: Given) {
  return <CheckField name={name} label={label} hint={hint} defaultChecked={of.typed[name] === 'yes'} />
}

/** Any of a few; the values stand one a line in what is typed. */
export function TicksField({
  of,
  choices,
  columns,
  ...given
}: Given & { choices: readonly Choice[]; columns?: 1 | 2 | 3 }) {
  const { name, hint } = given
  const text = of.typed[name] ?? ''
  const words = (value: string) =>
    value
      .split('\n')
      .map((one) => choices.find((choice) => choice.value === one)?.label ?? one)
      .join(', ')
  return (
    <CheckGroup
      {...given}
      choices={choices}
      columns={columns}
      hint={hintOf(of, name, hint, words)}
      chosen={text === '' ? [] : text.split('\n')}
    />
  )
}

/** One choice a row, in order, with an empty row for one more. */
export function ChoiceRows({
  of,
  name,
  label,
  choices,
}: {
  of: FormFacts
  name: string
  label: string
  choices: readonly Choice[]
}) {
  const rows = rowsOf(of.typed, name) + 1
  return Array.from({ length: rows }, (_, row) => (
    <ChoiceField
      // biome-ignore lint/suspicious/noArrayIndexKey: a row is known by its place, which is its field's name
      key={row}
      of={of}
      name={`${name}.${row}`}
      label={row === rows - 1 ? `One more ${label.toLowerCase()}` : `${label} ${row + 1}`}
      empty="None"
      choices={choices}
    />
  ))
}

/** How many rows of a list are filled in. */
export function rowsOf(typed: Typed, name: string): number {
  const places = Object.keys(typed).flatMap((field) => {
    const [head, row] = field.split('.')
    return head === name && row !== undefined ? [Number(row) + 1] : []
  })
  return Math.max(0, ...places)
}

/** Entries of a kind to choose from; two of one title are told apart by their keys. */
export function choicesOf({ titles }: CatalogueChoices, kind: EntryKind): Choice[] {
  const all = Object.entries(titles[kind])
  const counts = new Map<string, number>()
  for (const [, title] of all) counts.set(title, (counts.get(title) ?? 0) + 1)
  return all.map(([value, title]) => ({
    value,
    label: (counts.get(title) ?? 0) > 1 ? `${title} (${value})` : title,
  }))
}
