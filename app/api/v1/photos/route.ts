import { addPhoto, mostPhotoBytes } from '../../../../lib/shop/add-photo'
import { bodyBytes, jsonAnswer, refusalAnswer, routeDoor } from '../../../../lib/web/route-door'

/** The bytes of one photo as the body; what it belongs to stands in the address. */
export const POST = routeDoor('photo:add', async ({ request, context }) => {
  const facts = Object.fromEntries(new URL(request.url).searchParams)
  const bytes = await bodyBytes(request, mostPhotoBytes)
  const result = await addPhoto({ ...facts, bytes }, context)
  return result.ok ? jsonAnswer(result) : refusalAnswer(result.refusal)
})
