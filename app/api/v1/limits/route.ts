import { modelSheetCsv } from '../../../../lib/shop/model-limits'
import { routeDoor } from '../../../../lib/web/route-door'

/** The limits of one model as a table: `?make=&model=&year=`. */
export const GET = routeDoor('bike:see', async ({ request, context }) => {
  const { make, model, year } = Object.fromEntries(new URL(request.url).searchParams)
  const { name, text } = await modelSheetCsv(context, { make, model, year })
  return new Response(text, {
    headers: {
      'content-type': 'text/csv; charset=utf-8',
      // Makes and models may be in any script; the plain name is for programs that read no other.
      'content-disposition': `attachment; filename="limits.csv"; filename*=UTF-8''${encodeURIComponent(name)}`,
      'cache-control': 'no-store',
      'x-content-type-options': 'nosniff',
    },
  })
})
