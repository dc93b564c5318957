import type { ReactNode } from 'react'
import { ActionForm } from '../../_ui/action-form'
import { Field } from '../../_ui/field'
import { VersionField } from '../../_ui/hidden-field'
import { Sheet } from '../../_ui/sheet'
import { SubmitButton } from '../../_ui/submit-button'
import { changeFiguresAction } from './actions'

/** Figures that belong together, saved together; saving them as they are says that somebody has looked. */
export function FigureForm({
  title,
  sub,
  version,
  resting,
  children,
}: {
  title: string
  sub?: ReactNode
  version: number
  /** Some of these still rest on starting values. */
  resting: boolean
  children: ReactNode
}) {
  return (
    <Sheet title={title} sub={sub} aside={<Standing resting={resting} />}>
      <ActionForm
        action={changeFiguresAction}
        label={title}
        done="Saved. Everything is reckoned with it now."
      >
        <VersionField version={version} />
        {children}
        {!resting && <Field name="reason" label="Why this changes" maxLength={500} />}
        <div>
          <SubmitButton look="quiet">{resting ? 'These are our figures' : 'Save'}</SubmitButton>
        </div>
      </ActionForm>
    </Sheet>
  )
}

function Standing({ resting }: { resting: boolean }) {
  return (
    <span className="inline-flex items-center gap-2 font-semibold">
      <svg aria-hidden="true" viewBox="0 0 16 16" width="16" height="16">
        <rect
          x="1.5"
          y="1.5"
          width="13"
          height="13"
          fill={resting ? 'none' : 'currentColor'}
          stroke="currentColor"
          strokeWidth="2"
          strokeDasharray={resting ? '3 2' : undefined}
        />
      </svg>
      {resting ? 'Starting values' : 'Set by the shop'}
    </span>
  )
}
