import { addPhoto, mostPhotoBytes } from '../../../../lib/shop/add-photo'
import { photoContext } from '../../../../lib/shop/sync'
import { bodyBytes, jsonAnswer, refusalAnswer, routeDoor } from '../../../../lib/web/route-door'

/** The bytes of one photo as the body; what it belongs to stands in the address. */
export const POST = routeDoor('photo:add', async ({ request, context }) => {
  const told = Object.fromEntries(new URL(request.url).searchParams)
  const bytes = await bodyBytes(request, mostPhotoBytes)
  const { facts, context: asAuthor } = await photoContext(told, context)
  const result = await addPhoto({ ...facts, bytes }, asAuthor)
  return result.ok ? jsonAnswer(result) : refusalAnswer(result.refusal)
})
