import { z } from 'zod'
import type { Check, Fault } from '../core/checks/catalogue'
import { type EntryKind, entryKinds, namedBy } from '../core/checks/catalogue-problems'
import { type Entry, isOwn, startingEntry } from './catalogue'
import {
  bothWays,
  type CatalogueEvent,
  type Edit,
  editFromForm,
  entryIn,
  newKey,
  patchOf,
  readStored,
  requireSeen,
  requireSound,
  type Stored,
  writeEdit,
} from './catalogue-change'
import { checkForm, type Draft, faultForm, isGuarded, jobForm, operationForm } from './catalogue-forms'
import { type Done, deed, type Inside } from './deed'
import { refuse } from './refusal'

const keyOf = z.string().min(1).max(80)
/** The version of the edit the person saw; 0 where the entry still had its starting values. */
const versionSeen = z.coerce.number().int().min(0)
export const seen = { key: keyOf, version: versionSeen }

export const changeEntryInput = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('check'), ...seen, ...checkForm }),
  z.strictObject({ kind: z.literal('fault'), ...seen, ...faultForm }),
  z.strictObject({ kind: z.literal('job'), ...seen, ...jobForm }),
  z.strictObject({ kind: z.literal('operation'), ...seen, ...operationForm }),
])

export const notThere = (kind: EntryKind) => refuse('not-found', `That ${kind} is not in the catalogue.`)

/** Sets an entry of the catalogue for every bike from now on; starting values are covered, not overwritten. */
export const changeEntry = deed('catalogue:change', changeEntryInput, async (input, { tx, now, who }) => {
  const { kind, key, version, ...draft } = input
  const stored = await readStored(tx)
  const entry = entryIn(stored.whole, { kind, key }) ?? notThere(kind)
  requireSeen(stored, { kind, key, version })
  const made = editFromForm(stored, { before: { kind, key, now: entry }, draft: draft as Draft<EntryKind> })
  requireSound(stored, made)
  return finish({ tx, now, who }, made.edit)
})

const sort = z.enum(['look', 'measured', 'number', 'code'], { error: 'Choose what sort of check it is.' })

export const addEntryInput = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('check'), sort, ...checkForm }),
  z.strictObject({ kind: z.literal('fault'), ...faultForm }),
  z.strictObject({ kind: z.literal('job'), ...jobForm }),
  z.strictObject({ kind: z.literal('operation'), ...operationForm }),
])

/** Adds an entry of the shop's own. Its title says it once: sent twice it is there once. */
export const addEntry = deed('catalogue:change', addEntryInput, async (input, { tx, now, who }) => {
  const { kind, ...rest } = input
  const { sort: ofSort, ...draft } = { sort: undefined, ...rest }
  const stored = await readStored(tx)
  const key = newKey(stored, { kind, title: draft.title })
  const before = { kind, key, now: null, sort: ofSort as Check['sort'] | undefined }
  const made = editFromForm(stored, { before, draft: draft as Draft<EntryKind> })
  requireSound(stored, made)
  return finish({ tx, now, who }, made.edit)
})

export const onEntryInput = z.strictObject({ kind: z.enum(entryKinds), ...seen })

/** Takes an entry out of use. What was read and decided with it stays; nothing else may still name it. */
export const takeEntryOut = deed('catalogue:change', onEntryInput, async (input, inside) => {
  const { stored, entry, of } = await opened(input, inside)
  const patch = patchOf(stored, of)
  if (patch?.outOfUse) refuse('rule', 'It is out of use already.')
  const named = namedBy(stored.catalogue, of)
  if (named.length > 0) {
    const who = [...new Set(named.map(({ kind, title }) => `the ${kind} "${title}"`))]
    const most = who.length > 4 ? [...who.slice(0, 4), `${who.length - 4} more`] : who
    refuse('rule', `It is still named by ${most.join(', ')}. Take it out there first.`)
  }
  if (guards(of, entry))
    refuse(
      'rule',
      'Somebody could be hurt: a stop that only its job opens, or a round, rests on this. It stays in use.',
    )
  const edit: Edit = {
    ...of,
    patch: { ...(patch ?? {}), outOfUse: true },
    change: { key: of.key, done: 'taken out of use', before: {}, after: {} },
  }
  return finish(inside, edit)
})

/** Takes an entry up again, with the values it had. */
export const takeEntryUp = deed('catalogue:change', onEntryInput, async (input, inside) => {
  const { stored, of } = await opened(input, inside)
  const { outOfUse, ...patch } = patchOf(stored, of) ?? {}
  if (!outOfUse) refuse('rule', 'It is in use already.')
  const edit: Edit = { ...of, patch, change: { key: of.key, done: 'taken up again', before: {}, after: {} } }
  requireSound(stored, { edit, messages: {}, fieldOf: () => '' })
  return finish(inside, edit)
})

/** Gives a starting entry its starting values back, in use; the history of what it was stays. */
export const entryBackToStart = deed('catalogue:change', onEntryInput, async (input, inside) => {
  const { stored, entry, of } = await opened(input, inside)
  const first = startingEntry(of.kind, of.key)
  if (!first || isOwn(of.key)) return refuse('rule', 'It is the shop’s own and has no starting values.')
  const edit: Edit = {
    ...of,
    patch: {},
    change: { key: of.key, done: 'back to starting values', ...bothWays(entry, first) },
  }
  requireSound(stored, { edit, messages: {}, fieldOf: () => '' })
  return finish(inside, edit)
})

async function opened(
  { kind, key, version }: z.output<typeof onEntryInput>,
  { tx }: Inside,
): Promise<{ stored: Stored; entry: Entry; of: { kind: EntryKind; key: string } }> {
  const stored = await readStored(tx)
  const of = { kind, key }
  const entry = entryIn(stored.whole, of) ?? notThere(kind)
  requireSeen(stored, { ...of, version })
  return { stored, entry, of }
}

/**
 * A starting entry that safety rests on: a stop opened by its job alone, a check that raises one, or a check that a
 * round opens on.
 */
function guards({ kind, key }: { kind: EntryKind; key: string }, entry: Entry): boolean {
  const first = startingEntry(kind, key)
  if (!first) return false
  if (kind === 'fault') return isGuarded(entry as Fault)
  if (kind !== 'check') return false
  if ((first as Check).gate) return true
  return (first as Check).raises.some((raise) => {
    const fault = 'fault' in raise ? (startingEntry('fault', raise.fault) as Fault | null) : null
    return fault !== null && isGuarded(fault)
  })
}

/** Writes the edit and says so; what changes nothing leaves no trace. */
export async function finish(
  { tx, now, who }: Pick<Inside, 'tx' | 'now' | 'who'>,
  edit: Edit,
): Promise<Done<{ kind: EntryKind; key: string }>> {
  const { kind, key, change } = edit
  const answer = { kind, key }
  const nothing = change.done === 'changed' && Object.keys(change.after).length === 0
  if (nothing) return { answer, event: null }
  await writeEdit(tx, { edit, personId: who.personId, at: now })
  return { answer, event: { bikeId: null, body: { kind, ...change } satisfies CatalogueEvent } }
}
