import { photoType, readPhoto } from '../../../../../lib/shop/read-photo'
import { routeDoor } from '../../../../../lib/web/route-door'

/** A photo by its id; `?size=small` for the small one. Its bytes never change, so the browser may keep them. */
export const GET = routeDoor<{ photo: string }>('bike:see', async ({ request, params, context }) => {
  const size = new URL(request.url).searchParams.get('size') === 'small' ? 'small' : 'full'
  const bytes = await readPhoto(context.store, { photo: params.photo, size })
  return new Response(new Uint8Array(bytes), {
    headers: {
      'content-type': photoType,
      'cache-control': 'private, max-age=31536000, immutable',
      'x-content-type-options': 'nosniff',
    },
  })
})
