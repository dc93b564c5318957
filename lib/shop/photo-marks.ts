import { z } from 'zod'

/*
 * What is drawn beside a photo to show where to look. Places are parts of the picture's width and height from its upper
 * left corner, so that they fit it at any size; the picture itself is never written again.
 */

export const mostMarks = 20

const part = z.number().min(0).max(1)

export const photoMark = z.discriminatedUnion('kind', [
  /** Points from somewhere to what it is about. */
  z.strictObject({ kind: z.literal('arrow'), fromX: part, fromY: part, toX: part, toY: part }),
  /** Round what it is about; the radius is a part of the picture's width. */
  z.strictObject({ kind: z.literal('circle'), x: part, y: part, radius: z.number().min(0.01).max(0.5) }),
])

const tooMany = `Draw at most ${mostMarks} marks.`

export const photoMarks = z.array(photoMark).max(mostMarks, tooMany)

export type PhotoMark = z.output<typeof photoMark>

const unreadable = 'This drawing cannot be read. Load the page again and draw it anew.'

/** Marks as a form or a tablet sends them: as text of JSON, or as they are. */
export const sentMarks = z
  .union([z.string().max(20_000, unreadable), z.array(z.unknown())])
  .transform((sent, context) => {
    const given = typeof sent === 'string' ? parsedOrNull(sent) : sent
    const read = photoMarks.safeParse(given)
    if (read.success) return read.data
    const message = Array.isArray(given) && given.length > mostMarks ? tooMany : unreadable
    context.addIssue({ code: 'custom', message })
    return z.NEVER
  })

function parsedOrNull(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
}

/** What is stored; a drawing that an older or newer version wrote otherwise is left out rather than guessed at. */
export function storedMarks(text: string): PhotoMark[] {
  const read = photoMarks.safeParse(parsedOrNull(text))
  return read.success ? read.data : []
}
