import type { PriceNoted, PricesNoted } from '../../../../../lib/shop/read-comparables'
import { ActionForm } from '../../../../_ui/action-form'
import { Disclosure } from '../../../../_ui/disclosure'
import { Field } from '../../../../_ui/field'
import { formatEstimate, formatMoney } from '../../../../_ui/formats'
import { HiddenField, VersionField } from '../../../../_ui/hidden-field'
import { SubmitButton } from '../../../../_ui/submit-button'
import { correctComparableAction, seeComparableAgainAction, withdrawComparableAction } from './actions'
import { PriceFields } from './price-form'
import { notedWords, seenWords, valueReasons, weightReasons, weightWords } from './price-words'

/** Every noted price: what it says of this bike, how much it counts, why, and what can be done with it. */
export function PriceList({ prices: { id, notes, currency } }: { prices: PricesNoted }) {
  return (
    <ul className="flex flex-col">
      {notes.map((note) => (
        <li key={note.id} className="border-b border-rule py-4 first:pt-0 last:border-0 last:pb-0">
          <NoteLine note={note} currency={currency} />
          <NoteDeeds note={note} bike={id} currency={currency} />
        </li>
      ))}
    </ul>
  )
}

function NoteLine({ note, currency }: { note: PriceNoted; currency: string }) {
  const { priceMinor, value, weight, alone, link } = note
  return (
    <div className="grid gap-x-6 gap-y-1 sm:grid-cols-[1fr_auto]">
      <div>
        <h3>
          {formatMoney(priceMinor, currency)}, {notedWords(note)}
        </h3>
        <p>
          {seenWords(note)}.{alone && ' For this bike alone.'}{' '}
          {link && (
            <a href={link} target="_blank" rel="noreferrer noopener">
              Open the advert
            </a>
          )}
        </p>
        <p className="text-soft">
          {capital(valueReasons(note).join('; '))}. {capital(weightReasons(note).join('; '))}.
        </p>
        {note.note && <p>{note.note}</p>}
        <p className="text-sm text-soft">Written down by {note.who}.</p>
      </div>
      <p className="sm:text-right">
        <span className="text-soft">This bike by it</span>{' '}
        <span className="text-lg font-semibold sm:block">{formatEstimate(value, currency)}</span>{' '}
        <span className="sm:block">{weightWords(weight)}</span>
      </p>
    </div>
  )
}

function NoteDeeds({ note, bike, currency }: { note: PriceNoted; bike: string; currency: string }) {
  const about = (
    <>
      <HiddenField name="comparable" value={note.id} />
      <HiddenField name="bike" value={bike} />
      <VersionField version={note.version} />
    </>
  )
  const name = `${formatMoney(note.priceMinor, currency)}, ${notedWords(note)}`
  return (
    <div className="no-print mt-2 flex flex-col gap-1">
      {note.asked && !note.seenToday && (
        <ActionForm action={seeComparableAgainAction} label={`Still there: ${name}`}>
          {about}
          <div>
            <SubmitButton look="quiet">Still there today</SubmitButton>
          </div>
        </ActionForm>
      )}
      <Disclosure summary={<span className="text-soft">Correct it or take it back</span>}>
        <div className="flex flex-col gap-6">
          <ActionForm action={correctComparableAction} label={`Correct: ${name}`}>
            {about}
            <PriceFields typed={note.typed} currency={currency} />
            <div>
              <SubmitButton look="quiet">Save the correction</SubmitButton>
            </div>
          </ActionForm>
          <ActionForm action={withdrawComparableAction} label={`Take back: ${name}`}>
            {about}
            <Field name="reason" label="What was wrong with it" maxLength={200} required />
            <div>
              <SubmitButton look="quiet">Take it back</SubmitButton>
            </div>
          </ActionForm>
        </div>
      </Disclosure>
    </div>
  )
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1)
}
