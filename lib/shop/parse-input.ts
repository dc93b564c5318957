import type { z } from 'zod'
import { type FieldMessages, refuse } from './refusal'

/** Checks the shape; a message stands at the deepest field it belongs to, joined by dots. */
export function parseInput<S extends z.ZodType>(schema: S, raw: unknown): z.output<S> {
  const parsed = schema.safeParse(raw)
  if (parsed.success) return parsed.data
  const fields: FieldMessages = {}
  for (const issue of parsed.error.issues) {
    const field = issue.path.join('.')
    fields[field] ??= issue.message
  }
  const count = Object.keys(fields).length
  const message = count === 1 ? 'One field needs another look.' : `${count} fields need another look.`
  return refuse('malformed', message, { fields })
}
