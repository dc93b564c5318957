import { parseInput } from '../../../../lib/shop/parse-input'
import { sync, syncInput } from '../../../../lib/shop/sync'
import { jsonAnswer, jsonBody, routeDoor } from '../../../../lib/web/route-door'

const mostBytes = 1_000_000

export const POST = routeDoor('reading:add', async ({ request, context }) => {
  const input = parseInput(syncInput, await jsonBody(request, mostBytes))
  return jsonAnswer({ ok: true, answers: await sync(input, context) })
})
