import { entryKinds } from '../../../../../lib/core/checks/catalogue-problems'
import { readCatalogue } from '../../../../../lib/shop/catalogue'
import { catalogueCsv } from '../../../../../lib/shop/catalogue-csv'
import { refuse } from '../../../../../lib/shop/refusal'
import { routeDoor } from '../../../../../lib/web/route-door'

/** The entries of one kind as a table: check, fault, job or operation. */
export const GET = routeDoor<{ kind: string }>('catalogue:change', async ({ params, context }) => {
  const kind = entryKinds.find((one) => one === params.kind)
  if (!kind) return refuse('not-found', 'There is no such table. Ask for check, fault, job or operation.')
  return new Response(catalogueCsv(await readCatalogue(context.store.db), kind), {
    headers: {
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': `attachment; filename="catalogue-${kind}.csv"`,
      'cache-control': 'no-store',
      'x-content-type-options': 'nosniff',
    },
  })
})
