'use client'

import type { ReactNode } from 'react'
import type { DecisionKind } from '../../../../../lib/core/checks/decision.input'
import { ActionForm } from '../../../../_ui/action-form'
import { TextArea } from '../../../../_ui/field'
import { HiddenField } from '../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { decideAction } from './actions'

/** The bike a decision is about, and the id that the next one gets. */
export type Deciding = { bike: string; nextId: string; currency: string }

/** One decision with its reason. The fields that differ stand between. */
export function DecideForm({
  deciding,
  kind,
  about,
  label,
  send,
  children,
}: {
  deciding: Deciding
  kind: DecisionKind
  /** Key of the fault or job; left out where a field chooses it. */
  about?: string
  label: string
  /** What the button says. */
  send: string
  children?: ReactNode
}) {
  return (
    <ActionForm action={decideAction} label={label} done="Written down. The estimate follows it.">
      <HiddenField name="bike" value={deciding.bike} />
      <HiddenField name="decision.id" value={deciding.nextId} />
      <HiddenField name="decision.kind" value={kind} />
      {about !== undefined && <HiddenField name="decision.key" value={about} />}
      {children}
      <TextArea name="decision.reason" label="Why" rows={2} required />
      <div>
        <SubmitButton look="quiet">{send}</SubmitButton>
      </div>
    </ActionForm>
  )
}
