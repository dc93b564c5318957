'use client'

import { useEffect, useState } from 'react'
import type { Instrument } from '../../../../../lib/core/checks/catalogue'
import { instrumentsFor, type ShopInstrument } from '../../../../../lib/core/checks/instruments'
import type { CheckShown } from '../../../../../lib/shop/read-sheet'
import { recall, remember } from '../../../../_ui/remembered'
import { asCheck } from './as-seen-here'

type Measured = Extract<CheckShown, { sort: 'measured' }>

/** A tool to choose, with the kind of instrument it is. */
export type Tool = Instrument & { kind: string }

/** What a check may be read with: the shop's own tools, and a kind itself where the shop has listed none of it. */
export function toolsFor(check: Measured, own: readonly ShopInstrument[]): Tool[] {
  const full = asCheck(check)
  if (full.sort !== 'measured') return []
  return full.instruments.flatMap((kind) =>
    instrumentsFor({ ...full, instruments: [kind] }, own).map((tool) => ({ ...tool, kind: kind.key })),
  )
}

/**
 * The tool in hand. Chosen once it is offered again on this device: which kind for these checks, and of that
 * kind which tool. Read after the first drawing, because the server that drew it does not know.
 */
export function useInstrument(check: Measured, tools: readonly Tool[]): [Tool | null, (key: string) => void] {
  const [kindChosen, setKindChosen] = useState<string | null>(null)
  const [toolChosen, setToolChosen] = useState<string | null>(null)
  const kinds = check.instruments.map(({ key }) => key)
  const kindsKey = `kind of instrument of ${kinds.join(' ')}`
  const kind = kindChosen ?? (kinds.length === 1 ? (kinds[0] ?? null) : null)
  useEffect(() => setKindChosen(recall(kindsKey, 'device')), [kindsKey])
  useEffect(() => setToolChosen(kind === null ? null : recall(toolKey(kind), 'device')), [kind])
  const ofKind = tools.filter((one) => one.kind === kind)
  const only = ofKind.length === 1 ? ofKind[0] : undefined
  const tool = ofKind.find(({ key }) => key === toolChosen) ?? only ?? null
  return [
    tool,
    (key) => {
      const next = tools.find((one) => one.key === key)
      if (!next) return
      remember(kindsKey, next.kind, 'device')
      remember(toolKey(next.kind), key, 'device')
      setKindChosen(next.kind)
      setToolChosen(key)
    },
  ]
}

function toolKey(kind: string): string {
  return `tool of ${kind}`
}
