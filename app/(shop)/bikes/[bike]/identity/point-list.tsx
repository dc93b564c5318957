import Link from 'next/link'
import { uuidv7 } from 'uuidv7'
import type { IdentityPage, PointSaid, PointShown } from '../../../../../lib/shop/read-identity'
import { ActionForm } from '../../../../_ui/action-form'
import { RadioField } from '../../../../_ui/choice-fields'
import { Disclosure } from '../../../../_ui/disclosure'
import { Field } from '../../../../_ui/field'
import { formatInstant } from '../../../../_ui/formats'
import { HiddenField } from '../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { noteIdentityAction } from './actions'
import { ChecksKnown } from './check-known'
import { Missing } from './missing'

export const pointTitles = {
  'seller-identity': "Seller's identity",
  'right-to-sell': 'Right to sell',
  'frame-number': 'Frame number on frame, plate and paper',
  keys: 'Keys',
  finance: 'How the finance is settled',
} as const

/** Every point with what was seen, and the form for what is seen now. */
export function PointList({ page, mayNote }: { page: IdentityPage; mayNote: boolean }) {
  return (
    <div className="flex flex-col">
      {page.points.map((shown) => (
        <section
          key={shown.point}
          id={`point-${shown.point}`}
          aria-label={pointTitles[shown.point]}
          className="flex flex-col gap-2 border-b border-rule py-3 last:border-0"
        >
          <h3>{pointTitles[shown.point]}</h3>
          <Beside shown={shown} page={page} />
          {shown.latest && <Said said={shown.latest} zone={page.zone} />}
          {!shown.latest && shown.final && (
            <p className="font-semibold">Nothing more is noted: what the rounds found is final.</p>
          )}
          <Missing page={page} of="point" about={shown.point} />
          {shown.earlier.length > 0 && (
            <Disclosure summary={`Noted earlier: ${shown.earlier.length}`}>
              <ul className="flex flex-col gap-2">
                {shown.earlier.map((said) => (
                  <li key={said.id}>
                    <Said said={said} zone={page.zone} />
                  </li>
                ))}
              </ul>
            </Disclosure>
          )}
          {mayNote && !shown.final && <SeenForm shown={shown} bike={page.id} />}
        </section>
      ))}
    </div>
  )
}

/** What is known of it from elsewhere. */
function Beside({ shown, page }: { shown: PointShown; page: IdentityPage }) {
  const { seller, frameNumber, viewingNo } = page
  return (
    <>
      {shown.point === 'seller-identity' && (
        <p>
          {seller.name ?? 'No seller noted'}
          {seller.contact && `, ${seller.contact}`}
        </p>
      )}
      {shown.point === 'frame-number' && (
        <p className="flex flex-wrap items-center gap-x-4">
          {frameNumber === null ? (
            'The frame number is not noted.'
          ) : (
            <>
              <span className="font-mono text-lg font-semibold break-all">{frameNumber}</span>
              <Link href={`/bikes/${viewingNo}#the-bike`} className="tap no-print">
                What this number says
              </Link>
            </>
          )}
        </p>
      )}
      <ChecksKnown known={shown.known} viewingNo={viewingNo} />
    </>
  )
}

function Said({ said, zone }: { said: PointSaid; zone: string }) {
  return (
    <p>
      <strong>{said.label}</strong>. {said.who}, {formatInstant(said.at, zone)}
      {said.note && `. ${said.note}`}
    </p>
  )
}

function SeenForm({ shown, bike }: { shown: PointShown; bike: string }) {
  const { point, choices, latest } = shown
  return (
    <div className="no-print">
      <Disclosure
        summary={
          <span className="font-semibold">
            {latest ? 'Something else was seen' : 'Write down what was seen'}
          </span>
        }
      >
        <ActionForm action={noteIdentityAction} label={pointTitles[point]} done="It is written down.">
          <HiddenField name="id" value={uuidv7()} />
          <HiddenField name="bike" value={bike} />
          <HiddenField name="point" value={point} />
          <RadioField
            name="answer"
            label="Seen"
            required
            columns={2}
            choices={choices.map(({ key, label, why, never }) => ({
              value: key,
              label,
              hint: never
                ? 'Final: no later word takes it back.'
                : why
                  ? 'Say below what was seen as proof.'
                  : undefined,
            }))}
          />
          <Field
            name="note"
            label="What was seen"
            hint="The kind of paper, its number, how many keys."
            maxLength={500}
          />
          <div>
            <SubmitButton>Write it down</SubmitButton>
          </div>
        </ActionForm>
      </Disclosure>
    </div>
  )
}
