/** The address of a model's sheet, or of what stands below it. */
export function modelAddress(
  { make, model, year }: { make: string; model: string; year: number | null },
  base = '/settings/limits/model',
): string {
  const asked = new URLSearchParams({ make, model, ...(year !== null && { year: String(year) }) })
  return `${base}?${asked}`
}
