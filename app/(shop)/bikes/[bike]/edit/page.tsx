import type { Metadata } from 'next'
import { readBikeFormFacts, readBikeToEdit } from '../../../../../lib/shop/read-bike-form'
import { found, openPage } from '../../../../../lib/web/pages'
import { ActionForm } from '../../../../_ui/action-form'
import { HiddenField, VersionField } from '../../../../_ui/hidden-field'
import { PageHead } from '../../../../_ui/page-head'
import { SubmitButton } from '../../../../_ui/submit-button'
import { BikeFields } from '../../_ui/bike-form'
import { changeBikeAction } from './actions'

export const metadata: Metadata = { title: 'Correct a bike' }

export default async function EditBikePage({ params }: { params: Promise<{ bike: string }> }) {
  const context = await openPage('/bikes/[bike]/edit')
  const { bike } = await params
  const { id, viewingNo, version, values } = await found(readBikeToEdit(context.store, bike))
  const { currency, makes } = await readBikeFormFacts(context.store)
  return (
    <main id="main" className="page">
      <PageHead title={`Correct viewing ${viewingNo}`} sub={`${values.make} ${values.model}`} />
      <ActionForm action={changeBikeAction} label="Correct a bike" className="flex flex-col gap-6">
        <HiddenField name="id" value={id} />
        <VersionField version={version} />
        <BikeFields currency={currency} makes={makes} values={values} />
        <div className="no-print">
          <SubmitButton>Save</SubmitButton>
        </div>
      </ActionForm>
    </main>
  )
}
