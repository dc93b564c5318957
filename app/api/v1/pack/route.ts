import { packText } from '../../../../lib/shop/pack'
import { readPack } from '../../../../lib/shop/read-pack'
import { routeDoor } from '../../../../lib/web/route-door'

export const GET = routeDoor('money:see', async ({ context }) => {
  const text = packText(await readPack(context))
  return new Response(text, { headers: { 'cache-control': 'no-store', 'content-type': 'application/json' } })
})
