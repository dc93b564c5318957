import type { PhotoMark } from '../../../../../lib/shop/photo-marks'
import type { Sheet, SheetPhoto } from '../../../../../lib/shop/read-sheet'
import type { Entry } from '../../../../_ui/outbox/outbox'

/** A photo of a check with what is drawn beside it, also where the server has the one or the other not yet. */
export type SeenPhoto = Pick<SheetPhoto, 'id' | 'caption' | 'takenAt' | 'who' | 'marks' | 'version'> & {
  /** Null while only this device has it: its picture says how large it is. */
  size: { width: number; height: number } | null
  /** How far the photo is, while the page shows it not yet from the server. */
  photoHere: Entry | null
  /** How far what was drawn last is, while the page shows it not yet from the server. */
  drawingHere: Entry | null
}

/** What is sent of a drawing. */
export type DrawingBody = { photo: string; version: number; marks: readonly PhotoMark[] }

/** The photos of one check as seen here. One that was refused is shown too: nobody else has it. */
export function photosSeen(
  known: readonly SheetPhoto[],
  of: { bike: string; check: string },
  { entries, person }: { entries: readonly Entry[]; person: Sheet['person'] },
): SeenPhoto[] {
  const back = photosTakenBack(entries)
  const there = known.map(
    ({ width, height, ...photo }): SeenPhoto => ({
      ...photo,
      size: { width, height },
      photoHere: null,
      drawingHere: null,
    }),
  )
  const here = entries.flatMap((entry): SeenPhoto[] => {
    const { kept } = entry
    if (kept.to !== 'photos' || kept.facts.bike !== of.bike || kept.facts.check !== of.check) return []
    if (known.some(({ id }) => id === kept.id)) return []
    const who = kept.author === person.id ? person.name : 'somebody else'
    const said = { id: kept.id, caption: '', takenAt: kept.facts.takenAt ?? '', who }
    return [{ ...said, marks: [], version: 1, size: null, photoHere: entry, drawingHere: null }]
  })
  return [...there, ...here]
    .filter(({ id }) => !back.has(id))
    .map((photo) => entries.reduce(withDrawing, photo))
}

/** Each drawing takes the place of the one before. One that the server shows by now, or refused, adds nothing. */
function withDrawing(photo: SeenPhoto, entry: Entry): SeenPhoto {
  const drawing = drawingOf(entry)
  if (drawing?.photo !== photo.id || entry.state === 'refused' || drawing.version < photo.version)
    return photo
  return { ...photo, marks: drawing.marks, version: drawing.version + 1, drawingHere: entry }
}

/** What an entry draws on a photo; null where it does something else. */
export function drawingOf({ kept }: Entry): DrawingBody | null {
  return kept.to === 'sync' && kept.deed === 'mark-photo' ? (kept.body as DrawingBody) : null
}

/** The photo that an entry takes back; null where it does something else, or was refused. */
export function photoTakenBack({ kept, state }: Entry): string | null {
  if (kept.to !== 'sync' || kept.deed !== 'take-back-photo' || state === 'refused') return null
  return String(kept.body.photo)
}

/** Photos that were taken back on this device, whether or not the server has heard of it. */
export function photosTakenBack(entries: readonly Entry[]): Set<string> {
  return new Set(entries.map(photoTakenBack).filter((photo) => photo !== null))
}
