/** What every page of a bike begins with: its numbers, its stage, what people call it. There is no money in it. */
export type BikeHead = {
  id: string
  viewingNo: number
  stockNo: number | null
  stage: string
  make: string
  model: string
  year: number | null
  registration: string | null
}

/** Its columns, for a read that needs no more. */
export const bikeHead = {
  id: true,
  viewingNo: true,
  stockNo: true,
  stage: true,
  make: true,
  model: true,
  year: true,
  registration: true,
} as const satisfies Record<keyof BikeHead, true>

/** The head of a bike out of whatever was read of it. */
export function headOf(bike: BikeHead): BikeHead {
  const { id, viewingNo, stockNo, stage, make, model, year, registration } = bike
  return { id, viewingNo, stockNo, stage, make, model, year, registration }
}
