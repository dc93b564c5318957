import type { DeedResult } from '../../shop/deed'

/** A story that cannot be told is a fault of the story. */
export function must<R>(result: DeedResult<R>): R {
  if (result.ok) return result.answer
  const { message, fields } = result.refusal
  throw new Error(`The demo cannot be told: ${message} ${JSON.stringify(fields)}`)
}
