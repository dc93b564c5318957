import { comparablesCsv } from '../../../../lib/shop/comparables-csv'
import { routeDoor } from '../../../../lib/web/route-door'

/** The prices noted for one bike as a table: `?bike=` its viewing number. */
export const GET = routeDoor('price:note', async ({ request, context }) => {
  const { name, text } = await comparablesCsv(context, new URL(request.url).searchParams.get('bike') ?? '')
  return new Response(text, {
    headers: {
      'content-type': 'text/csv; charset=utf-8',
      // Makes and models may be in any script; the plain name is for programs that read no other.
      'content-disposition': `attachment; filename="prices.csv"; filename*=UTF-8''${encodeURIComponent(name)}`,
      'cache-control': 'no-store',
      'x-content-type-options': 'nosniff',
    },
  })
})
