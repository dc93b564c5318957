import { readKeptPages, readKeptPictures } from '../../../../lib/shop/kept-pages'
import { buildName } from '../../../../lib/web/build-name'
import { jsonAnswer, routeDoor } from '../../../../lib/web/route-door'

/** What this device keeps for a time without a network, for whoever is signed in. */
export const GET = routeDoor('bike:see', async ({ context }) => {
  const [pages, pictures] = await Promise.all([readKeptPages(context), readKeptPictures(context)])
  return jsonAnswer({ ok: true, build: buildName(), person: context.who.personId, pages, pictures })
})
