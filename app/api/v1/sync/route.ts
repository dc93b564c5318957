import { parseInput } from '../../../../lib/shop/parse-input'
import { requireKnownContract, sync, syncContract, syncInput } from '../../../../lib/shop/sync'
import { jsonAnswer, jsonBody, routeDoor } from '../../../../lib/web/route-door'

const mostBytes = 1_000_000

export const POST = routeDoor('reading:add', async ({ request, context }) => {
  const raw = await jsonBody(request, mostBytes)
  requireKnownContract(raw)
  const input = parseInput(syncInput, raw)
  const answers = await sync(input, context)
  return jsonAnswer({ ok: true, contract: syncContract, serverTime: context.now.toISOString(), answers })
})
