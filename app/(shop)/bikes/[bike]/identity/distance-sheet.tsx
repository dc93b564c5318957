import Link from 'next/link'
import { uuidv7 } from 'uuidv7'
import { distanceSources } from '../../../../../lib/shop/distances'
import type { DistanceShown } from '../../../../../lib/shop/distances-of'
import type { DistancePage } from '../../../../../lib/shop/read-identity'
import { mayDo, type Role } from '../../../../../lib/shop/who-may'
import { ActionForm } from '../../../../_ui/action-form'
import { Disclosure } from '../../../../_ui/disclosure'
import { distanceUnitWords, formatDistance } from '../../../../_ui/distance-words'
import { Field, SelectField } from '../../../../_ui/field'
import { formatDay } from '../../../../_ui/formats'
import { HiddenField } from '../../../../_ui/hidden-field'
import { Sheet } from '../../../../_ui/sheet'
import { SubmitButton } from '../../../../_ui/submit-button'
import { noteDistanceAction, withdrawDistanceAction } from './actions'
import { ChecksKnown } from './check-known'
import { DistanceChart } from './distance-chart'

export const verdictTitles = {
  proven: 'Distance proven',
  'not proven': 'Distance not proven',
  'too few points': 'Too few points',
} as const

const sourceWords: Record<(typeof distanceSources)[number], string> = {
  clock: 'The clock',
  inspection: 'An inspection paper',
  service: 'A service record or bill',
  register: 'A register',
  'other paper': 'Another paper',
}

/** The dated distances, what they come to, and how to add one or take one back. */
export function DistanceSheet({ page, roles }: { page: DistancePage; roles: readonly Role[] }) {
  const { distances, known, viewingNo } = page
  const mayNote = mayDo(roles, 'distance:note')
  return (
    <Sheet
      id="distance"
      title="Distance"
      // At the bench the page has nothing else, and its head says it.
      sub={mayDo(roles, 'money:see') ? verdictTitles[distances.verdict] : undefined}
    >
      <div className="flex flex-col gap-4">
        <Because page={page} />
        <ChecksKnown known={known} viewingNo={viewingNo} />
        <DistanceChart distances={distances} />
        {distances.shown.length > 0 && (
          <ul className="flex flex-col">
            {distances.shown.map((point) => (
              <li key={point.id} className="border-b border-rule py-2 last:border-0">
                <PointLine point={point} falls={distances.falls.some(({ to }) => to.id === point.id)} />
                {mayNote && point.removable && <Withdraw point={point.id} />}
              </li>
            ))}
          </ul>
        )}
        {mayNote && <NoteForm page={page} />}
        {mayDo(roles, 'bike:change') && (
          <p className="no-print">
            <Link href={`/bikes/${viewingNo}/edit#the-bike`} className="tap">
              {distances.clockChanged ? 'The clock was not changed' : 'The clock was changed'}: correct the
              bike
            </Link>
          </p>
        )}
      </div>
    </Sheet>
  )
}

/** Which two contradict one another, or what lacks. */
function Because({ page }: { page: DistancePage }) {
  const { verdict, falls, clockChanged, because } = page.distances
  if (verdict === 'proven') return <p>The dated distances bear one another out.</p>
  if (verdict === 'too few points') return <p>{because.join(' ')}</p>
  return (
    <ul className="flex flex-col gap-1 font-semibold">
      {clockChanged && <li>The clock was changed.</li>}
      {falls.map(({ from, to }) => (
        <li key={to.id}>
          {formatDistance(to.distance, to.unit)} on {formatDay(to.day)} is below{' '}
          {formatDistance(from.distance, from.unit)} on {formatDay(from.day)}.
        </li>
      ))}
    </ul>
  )
}

function PointLine({ point, falls }: { point: DistanceShown; falls: boolean }) {
  const { day, distance, unit, source, note } = point
  return (
    <p className="flex flex-wrap items-baseline gap-x-4">
      <span>{formatDay(day)}</span>
      <strong>{formatDistance(distance, unit)}</strong>
      <span className="text-soft">
        {sourceWords[source as keyof typeof sourceWords] ?? source}
        {note && `: ${note}`}
      </span>
      {falls && <strong className="text-plum">Falls below an earlier one</strong>}
    </p>
  )
}

function Withdraw({ point }: { point: string }) {
  return (
    <div className="no-print">
      <Disclosure summary="Take it back">
        <ActionForm action={withdrawDistanceAction} label="Take a distance back">
          <HiddenField name="point" value={point} />
          <Field name="reason" label="What was wrong with it" required maxLength={200} />
          <div>
            <SubmitButton look="quiet">Take it back</SubmitButton>
          </div>
        </ActionForm>
      </Disclosure>
    </div>
  )
}

function NoteForm({ page }: { page: DistancePage }) {
  return (
    <div id="add-distance" className="no-print">
      <Disclosure summary={<span className="font-semibold">Add a dated distance</span>}>
        <ActionForm action={noteDistanceAction} label="Add a distance" done="It is written down.">
          <HiddenField name="id" value={uuidv7()} />
          <HiddenField name="bike" value={page.id} />
          <div className="grid items-end gap-4 sm:grid-cols-3">
            <Field name="day" label="Day" type="date" defaultValue={page.today} required />
            <Field name="distance" label="Distance" inputMode="decimal" required />
            <SelectField
              name="unit"
              label="In"
              required
              defaultValue={page.distances.unit}
              choices={Object.entries(distanceUnitWords).map(([value, label]) => ({ value, label }))}
            />
          </div>
          <SelectField
            name="source"
            label="Where it stands"
            required
            empty="Choose"
            choices={distanceSources.map((value) => ({ value, label: sourceWords[value] }))}
          />
          <Field name="note" label="Which paper" maxLength={200} />
          <div>
            <SubmitButton>Add it</SubmitButton>
          </div>
        </ActionForm>
      </Disclosure>
    </div>
  )
}
