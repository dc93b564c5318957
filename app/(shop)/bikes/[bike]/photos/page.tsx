import type { Metadata } from 'next'
import Link from 'next/link'
import { type PhotoOnPage, readPhotos } from '../../../../../lib/shop/read-photos'
import { mayDo } from '../../../../../lib/shop/who-may'
import { found, openPage } from '../../../../../lib/web/pages'
import { ActionForm } from '../../../../_ui/action-form'
import { bikeName, numbersOf } from '../../../../_ui/bike-name'
import { Disclosure } from '../../../../_ui/disclosure'
import { Field } from '../../../../_ui/field'
import { formatInstant } from '../../../../_ui/formats'
import { HiddenField, VersionField } from '../../../../_ui/hidden-field'
import { MarkedPhoto, marksInWords } from '../../../../_ui/marked-photo'
import { EmptyState } from '../../../../_ui/notes'
import { PageHead } from '../../../../_ui/page-head'
import { Sheet } from '../../../../_ui/sheet'
import { SubmitButton } from '../../../../_ui/submit-button'
import { BikeNav } from '../../_ui/bike-nav'
import { AddPhotos } from '../add-photos'
import { choosePhotoAction, takeBackPhotoAction } from './actions'

export const metadata: Metadata = { title: 'Photos' }

type Asked = {
  params: Promise<{ bike: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

/** Every photo of a bike, large, with what is drawn beside it; to look at, to mark, to choose from and to print. */
export default async function PhotosPage({ params, searchParams }: Asked) {
  const context = await openPage('/bikes/[bike]/photos')
  const { bike: number } = await params
  const { fault } = await searchParams
  const bike = await found(readPhotos(context, number))
  const { photos, faults, viewingNo, zone } = bike
  const mayChoose = mayDo(context.who.roles, 'photo:choose')
  const chosen = photos.filter(({ forBuyer }) => forBuyer).length
  return (
    <main id="main" className={mayChoose ? 'page' : 'page bench'}>
      <PageHead
        title={`Photos of ${bikeName(bike)}`}
        sub={numbersOf(bike)}
        figure={{
          label: 'Photos',
          value: photos.length,
          note: mayChoose ? `${chosen} chosen for the buyer’s sheet` : undefined,
        }}
      />
      <BikeNav viewingNo={viewingNo} current="bike" who={context.who} />
      <div className="no-print">
        <Sheet title="Add to them">
          <AddPhotos
            bike={bike.id}
            person={context.who.personId}
            arrived={photos.map(({ id }) => id)}
            subjects={faults.map(({ key, title }) => ({ fault: key, title }))}
            subject={faults.some(({ key }) => key === fault) ? String(fault) : null}
          />
        </Sheet>
      </div>
      {bike.takenBack > 0 && (
        <p className="text-soft">
          {bike.takenBack === 1 ? 'One more was' : `${bike.takenBack} more were`} taken back; the story says
          why.
        </p>
      )}
      {photos.length === 0 ? (
        <EmptyState title="No photos yet.">
          What is seen on a photo need not be believed: take one of each side and of everything found.
        </EmptyState>
      ) : (
        <ul className="grid items-start gap-6 md:grid-cols-2 print:grid-cols-2">
          {photos.map((photo) => (
            <li key={photo.id} className="sheet break-inside-avoid">
              <OnePhoto photo={photo} viewingNo={viewingNo} zone={zone} mayChoose={mayChoose} />
            </li>
          ))}
        </ul>
      )}
    </main>
  )
}

function OnePhoto({
  photo,
  viewingNo,
  zone,
  mayChoose,
}: {
  photo: PhotoOnPage
  viewingNo: number
  zone: string
  mayChoose: boolean
}) {
  const { id, caption, about, who, takenAt, marks, forBuyer, version, width, height, mayTakeBack } = photo
  const title = about ?? 'The whole bike'
  const drawn = marksInWords(marks)
  const told = `${who}, ${formatInstant(takenAt, zone)}`
  return (
    <figure className="flex flex-col gap-3">
      <MarkedPhoto
        src={`/api/v1/photos/${id}`}
        alt={[`${title}, taken by ${told}`, caption, drawn].filter(Boolean).join('. ')}
        width={width}
        height={height}
        marks={marks}
      />
      <figcaption>
        <span className="block font-semibold">{title}</span>
        {caption && <span className="block">{caption}</span>}
        <span className="block text-soft">
          {told}
          {drawn && `, ${drawn}`}
        </span>
        {mayChoose && forBuyer && <span className="block font-semibold">On the buyer&rsquo;s sheet</span>}
      </figcaption>
      <div className="no-print flex flex-wrap gap-2">
        <Link href={`/bikes/${viewingNo}/photos/marks?photo=${id}`} className="btn-quiet">
          {marks.length > 0 ? 'Change its marks' : 'Mark it'}
        </Link>
        {mayChoose && (
          <ActionForm action={choosePhotoAction} label={`Buyer’s sheet: ${title}, ${told}`}>
            <HiddenField name="photo" value={id} />
            <VersionField version={version} />
            <HiddenField name="forBuyer" value={forBuyer ? 'no' : 'yes'} />
            <SubmitButton look="quiet">
              {forBuyer ? 'Take off the buyer’s sheet' : 'Choose for the buyer’s sheet'}
            </SubmitButton>
          </ActionForm>
        )}
      </div>
      {mayTakeBack && (
        <div className="no-print">
          <Disclosure summary={<span className="font-semibold">Take it back</span>}>
            <ActionForm action={takeBackPhotoAction} label={`Take back: ${title}, ${told}`}>
              <HiddenField name="photo" value={id} />
              <Field
                name="because"
                label="Why it should not be here"
                hint="It stays in the record and is shown nowhere else."
                maxLength={200}
                required
              />
              <SubmitButton look="quiet">Take it back</SubmitButton>
            </ActionForm>
          </Disclosure>
        </div>
      )}
    </figure>
  )
}
