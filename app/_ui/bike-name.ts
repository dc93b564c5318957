type Named = { make: string; model: string; year: number | null }
type Numbered = { viewingNo: number; stockNo: number | null; registration: string | null }

/** What people call a bike: "Calder 600 four, 1997". */
export function bikeName({ make, model, year }: Named): string {
  return `${make} ${model}${year === null ? '' : `, ${year}`}`
}

/** What it is found by: "Viewing 3, stock 2, AB12 CDE". Number 0 is one the server has not drawn yet. */
export function numbersOf({ viewingNo, stockNo, registration }: Numbered): string {
  const numbers = [
    viewingNo === 0 ? 'Not numbered yet' : `Viewing ${viewingNo}`,
    stockNo === null ? null : `stock ${stockNo}`,
    registration,
  ]
  return numbers.filter(Boolean).join(', ')
}

/** What the price of a bike on the board is. */
export const priceWords = { paid: 'Paid', offered: 'Offered', asking: 'Asked' } as const
