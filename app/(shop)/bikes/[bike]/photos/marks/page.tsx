import type { Metadata } from 'next'
import Link from 'next/link'
import { readPhotos } from '../../../../../../lib/shop/read-photos'
import { found, openPage } from '../../../../../../lib/web/pages'
import { ActionForm } from '../../../../../_ui/action-form'
import { bikeName } from '../../../../../_ui/bike-name'
import { HiddenField, VersionField } from '../../../../../_ui/hidden-field'
import { EmptyState } from '../../../../../_ui/notes'
import { PageHead } from '../../../../../_ui/page-head'
import { markPhotoAction } from '../actions'
import { MarkEditor } from './mark-editor'

export const metadata: Metadata = { title: 'Marks on a photo' }

type Asked = {
  params: Promise<{ bike: string }>
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

/** Arrows and circles beside one photo, drawn by taps and buttons; the picture stays as it was taken. */
export default async function MarksPage({ params, searchParams }: Asked) {
  const context = await openPage('/bikes/[bike]/photos/marks')
  const [{ bike: number }, { photo: asked }] = [await params, await searchParams]
  const bike = await found(readPhotos(context, number))
  const photo = bike.photos.find(({ id }) => id === asked)
  const back = `/bikes/${bike.viewingNo}/photos`
  return (
    <main id="main" className="page bench">
      <PageHead title="Mark a photo" sub={`${bikeName(bike)}: ${photo?.about ?? 'the whole bike'}`}>
        <Link href={back} className="tap no-print">
          Back to the photos
        </Link>
      </PageHead>
      {photo ? (
        <ActionForm
          action={markPhotoAction}
          label="Marks"
          done="Saved."
          className="sheet flex flex-col gap-5"
        >
          <HiddenField name="photo" value={photo.id} />
          <VersionField version={photo.version} />
          <MarkEditor
            src={`/api/v1/photos/${photo.id}`}
            width={photo.width}
            height={photo.height}
            stored={JSON.stringify(photo.marks)}
          />
        </ActionForm>
      ) : (
        <EmptyState title="No photo chosen.">
          Choose one among the photos of the bike, then mark it.
        </EmptyState>
      )}
    </main>
  )
}
