import { uuidv7 } from 'uuidv7'
import type { LineShown } from '../../../lib/shop/read-parts'
import { ActionForm } from '../../_ui/action-form'
import { RadioField } from '../../_ui/choice-fields'
import { Disclosure } from '../../_ui/disclosure'
import { Field } from '../../_ui/field'
import { formatNumber } from '../../_ui/formats'
import { HiddenField, VersionField } from '../../_ui/hidden-field'
import { SubmitButton } from '../../_ui/submit-button'
import {
  backOnShelfAction,
  notAtHandAction,
  partArrivedAction,
  partAtHandAction,
  partNeverAction,
  partWrongAction,
  settleWrongAction,
  takeOffListAction,
} from './actions'
import { bikeWords } from './bike-link'
import { pieces } from './parts-words'

type OfLine = { line: LineShown; mayOrder: boolean }

/** What may be said of a line as it stands; shown to whoever may say it. */
export function SayOfLine({ line, mayOrder }: OfLine) {
  switch (line.state) {
    case 'to order':
      return mayOrder && <TakeOff line={line} summary="Take it off the list" says="Take it off" />
    case 'ordered':
      return (
        <>
          <Arrived line={line} />
          <Wrong line={line} />
          {mayOrder && (
            <Disclosure summary={<span>It will not come</span>}>
              <Never line={line} />
              <TakeOff line={line} says="Call the order off" />
            </Disclosure>
          )}
        </>
      )
    case 'arrived':
      if (line.source === 'shelf') return <BackOnShelf line={line} />
      return line.source === 'stock' ? <NotAtHand line={line} /> : <Wrong line={line} />
    case 'wrong':
      return mayOrder && <Settle line={line} />
    default:
      return null
  }
}

function Seen({ line }: { line: LineShown }) {
  return (
    <>
      <HiddenField name="line" value={line.id} />
      <VersionField version={line.version} />
    </>
  )
}

/** Which part of which bike, so that no two forms of a page are called the same. */
function nameOf({ part, qty, bike }: LineShown): string {
  return `${pieces(part, qty)}, ${bikeWords(bike)}`
}

function Arrived({ line }: { line: LineShown }) {
  return (
    <ActionForm
      action={partArrivedAction}
      label={`It is here: ${nameOf(line)}`}
      className="flex flex-wrap items-end gap-3"
    >
      <Seen line={line} />
      {line.qty !== 1 && (
        <div className="w-48">
          <Field
            name="qty"
            label="How many came"
            inputMode="decimal"
            defaultValue={formatNumber(line.qty)}
            required
          />
        </div>
      )}
      <SubmitButton>It is here</SubmitButton>
    </ActionForm>
  )
}

function Wrong({ line }: { line: LineShown }) {
  return (
    <Disclosure summary={<span>It came wrong</span>}>
      <ActionForm action={partWrongAction} label={`Came wrong: ${nameOf(line)}`}>
        <Seen line={line} />
        <Field
          name="note"
          label="What is wrong with it"
          hint="Another part, broken, too few holes. A new one is then to be ordered."
          required
          maxLength={500}
        />
        <div>
          <SubmitButton look="quiet">Say that it is wrong</SubmitButton>
        </div>
      </ActionForm>
    </Disclosure>
  )
}

function Never({ line }: { line: LineShown }) {
  return (
    <ActionForm action={partNeverAction} label={`Will not come: ${nameOf(line)}`}>
      <Seen line={line} />
      <Field name="note" label="What the supplier said" required maxLength={500} />
      <div>
        <SubmitButton look="quiet">It is not to be had there</SubmitButton>
      </div>
    </ActionForm>
  )
}

function TakeOff({ line, summary, says }: { line: LineShown; summary?: string; says: string }) {
  const form = (
    <ActionForm action={takeOffListAction} label={`${says}: ${nameOf(line)}`}>
      <Seen line={line} />
      <Field name="reason" label="Why it is not wanted any more" required maxLength={500} />
      <div>
        <SubmitButton look="quiet">{says}</SubmitButton>
      </div>
    </ActionForm>
  )
  return summary ? <Disclosure summary={<span>{summary}</span>}>{form}</Disclosure> : form
}

const outcomes = [
  { value: 'sent back', label: 'Sent back', hint: 'The money comes back; nothing is spent.' },
  { value: 'kept', label: 'Paid all the same', hint: 'It counts as spent on the bike.' },
]

function Settle({ line }: { line: LineShown }) {
  return (
    <Disclosure summary={<span>What became of the wrong one</span>}>
      <ActionForm action={settleWrongAction} label={`Deal with: ${nameOf(line)}`}>
        <Seen line={line} />
        <RadioField name="outcome" label="The wrong one" choices={outcomes} columns={2} required />
        <Field name="note" label="Note" maxLength={200} />
        <div>
          <SubmitButton look="quiet">It is dealt with</SubmitButton>
        </div>
      </ActionForm>
    </Disclosure>
  )
}

function NotAtHand({ line }: { line: LineShown }) {
  return (
    <ActionForm action={notAtHandAction} label={`Not there: ${nameOf(line)}`}>
      <Seen line={line} />
      <div>
        <SubmitButton look="quiet">It is not there after all</SubmitButton>
      </div>
    </ActionForm>
  )
}

/** Nothing is ordered where the shop has it: oil, fluid, petrol, small parts. */
export function AtHandForm({
  need,
}: {
  need: { bike: string; job: string; part: string; qty: number; label: string }
}) {
  const { bike, job, part, qty, label } = need
  return (
    <ActionForm action={partAtHandAction} label={`The shop has it: ${label}`}>
      <HiddenField name="id" value={uuidv7()} />
      <HiddenField name="bike" value={bike} />
      <HiddenField name="job" value={job} />
      <HiddenField name="part" value={part} />
      <HiddenField name="qty" value={qty} />
      <div>
        <SubmitButton look="quiet">The shop has it</SubmitButton>
      </div>
    </ActionForm>
  )
}

function BackOnShelf({ line }: { line: LineShown }) {
  return (
    <ActionForm action={backOnShelfAction} label={`Back on the shelf: ${nameOf(line)}`}>
      <Seen line={line} />
      <div>
        <SubmitButton look="quiet">Put it back on the shelf</SubmitButton>
      </div>
    </ActionForm>
  )
}
