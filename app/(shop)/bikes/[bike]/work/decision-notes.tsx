import type { DecisionShown } from '../../../../../lib/shop/read-work'
import { ActionForm } from '../../../../_ui/action-form'
import { formatInstant } from '../../../../_ui/formats'
import { HiddenField, VersionField } from '../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { withdrawDecisionAction } from './actions'
import { decisionWords } from './work-words'

/** What a person decided and why, and the way back to what the readings say. */
export function DecisionNotes({
  decisions,
  zone,
  named = false,
}: {
  decisions: readonly DecisionShown[]
  zone: string
  /** Says what each is about, where that does not stand above it. */
  named?: boolean
}) {
  if (decisions.length === 0) return null
  return (
    <ul className="mt-2 flex flex-col gap-2">
      {decisions.map((decision) => (
        <li
          key={decision.id}
          className="flex flex-wrap items-center justify-between gap-x-4 border-l-4 border-accent bg-wash px-3 py-1"
        >
          <p className="min-w-0">
            <strong>
              {named && `${decision.about}: `}
              {decisionWords[decision.kind]}
              {decision.chosen && `: ${decision.chosen}`}
            </strong>
            {' – '}
            {decision.reason}
            <span className="block text-soft">
              {decision.who}, {formatInstant(decision.at, zone)}
            </span>
          </p>
          <div className="no-print">
            <ActionForm
              action={withdrawDecisionAction}
              label={`Take back: ${decision.about}, ${decisionWords[decision.kind].toLowerCase()}`}
              className="flex flex-col"
            >
              <HiddenField name="decision" value={decision.id} />
              <VersionField version={decision.version} />
              <SubmitButton look="plain" pending="Taking it back …">
                Take it back
              </SubmitButton>
            </ActionForm>
          </div>
        </li>
      ))}
    </ul>
  )
}
