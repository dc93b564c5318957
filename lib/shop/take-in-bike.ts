import { bikeColumns, takeInBikeInput } from './bike-fields'
import { deed } from './deed'

/** A bike first seen: it gets the next viewing number. Sending the same form twice takes it in once. */
export const takeInBike = deed(
  'viewing:take-in',
  takeInBikeInput,
  async ({ id, ...facts }, { tx, now, who }) => {
    const before = await tx.bike.findUnique({ where: { id } })
    if (before) return { answer: { bike: id, viewingNo: before.viewingNo }, event: null }

    const { _max } = await tx.bike.aggregate({ _max: { viewingNo: true } })
    const viewingNo = (_max.viewingNo ?? 0) + 1
    await tx.bike.create({
      data: {
        id,
        viewingNo,
        stage: 'viewing',
        ...bikeColumns(facts),
        createdAt: now,
        createdBy: who.personId,
      },
    })
    return { answer: { bike: id, viewingNo }, event: { bikeId: id, body: { viewingNo, ...facts } } }
  },
)
