import { z } from 'zod'
import { isDay } from './days'

/** A day that exists, as YYYY-MM-DD. */
export const dayInput = z.iso.date().refine(isDay).describe('A day of the calendar, YYYY-MM-DD')
