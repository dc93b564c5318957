import { type InputOf, type OutputOf, type ReckoningName, reckonings } from './reckonings'

/** Somebody who works calculations out beside the pages; the server starts one, in a thread of its own. */
export type Aside = {
  reckon<Name extends ReckoningName>(name: Name, input: InputOf<Name>): Promise<OutputOf<Name>>
}

// Next loads modules several times in one process: what the server starts is found by all of them here.
const sharedKey = Symbol.for('stand-ledger.aside')
const shared = globalThis as { [sharedKey]?: Aside | undefined }

/** Makes one that was started the one of this process; null takes it away. */
export function shareAside(aside: Aside | null): void {
  shared[sharedKey] = aside ?? undefined
}

/** Whether somebody reckons beside: only then can a page be shown before a calculation is done. */
export function isAsideThere(): boolean {
  return shared[sharedKey] !== undefined
}

/**
 * Works a calculation out beside the pages, or here where nobody was started for it: in tests, in a command of the
 * terminal, while the demo is told. Rejects with what the calculation threw.
 */
export async function reckonAside<Name extends ReckoningName>(
  name: Name,
  input: InputOf<Name>,
): Promise<OutputOf<Name>> {
  const aside = shared[sharedKey]
  if (aside) return aside.reckon(name, input)
  const reckon = reckonings[name] as (input: InputOf<Name>) => OutputOf<Name>
  return reckon(input)
}
