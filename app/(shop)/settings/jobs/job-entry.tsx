'use client'

import type { ThreePoint } from '../../../../lib/core/quantity/three-point'
import { typedMoney } from '../../../../lib/core/quantity/typed-money'
import type { JobShown } from '../../../../lib/shop/change-job'
import { ActionForm } from '../../../_ui/action-form'
import { PartFields, ThreeFields } from '../../../_ui/figure-fields'
import { countOf, formatHours, formatMoney } from '../../../_ui/formats'
import { HiddenField, VersionField } from '../../../_ui/hidden-field'
import { LateDisclosure } from '../../../_ui/late-disclosure'
import { SubmitButton } from '../../../_ui/submit-button'
import { changeJobAction } from './actions'

/** A job with its figures in a line, which opens to the form that sets them. */
export function JobEntry({ job, currency }: { job: JobShown; currency: string }) {
  const { key, title, hours, parts, outsideWork, operations, source, version } = job
  return (
    <LateDisclosure
      summary={
        <>
          <span className="font-semibold">{title}</span>{' '}
          <span className="text-soft">
            {threeOf(hours, formatHours)} · {countOf(parts.length, 'part')}
            {mostOf(outsideWork) > 0 &&
              ` · outside ${threeOf(outsideWork, (minor) => formatMoney(minor, currency))}`}
            {source.kind === 'shop' && ' · set here'}
          </span>
        </>
      }
    >
      {() => (
        <ActionForm action={changeJobAction} label={title} done="Saved. It holds for every bike from now on.">
          <HiddenField name="key" value={key} />
          <VersionField version={version} />
          {operations.length > 0 && (
            <p className="text-soft">Also needs, counted apart: {operations.join(', ').toLowerCase()}.</p>
          )}
          <ThreeFields name="hours" legend="Hours of its own" value={hours} write={String} unit="h" />
          <PartFields name="parts" parts={parts} currency={currency} />
          <ThreeFields
            name="outsideWork"
            legend="Paid to somebody else"
            value={outsideWork}
            write={typedMoney}
            unit={currency}
          />
          <div className="pb-4">
            <SubmitButton>Save {title.toLowerCase()}</SubmitButton>
          </div>
        </ActionForm>
      )}
    </LateDisclosure>
  )
}

function threeOf(value: ThreePoint | number, write: (value: number) => string): string {
  return typeof value === 'number' ? write(value) : `${write(value.low)} to ${write(value.high)}`
}

function mostOf(value: ThreePoint | number): number {
  return typeof value === 'number' ? value : value.high
}
