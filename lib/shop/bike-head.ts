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

/** The head of a bike out of whatever was read of it. */
export function headOf(bike: BikeHead): BikeHead {
  const { id, viewingNo, stockNo, stage, make, model, year, registration } = bike
  return { id, viewingNo, stockNo, stage, make, model, year, registration }
}
