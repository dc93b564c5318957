import { config } from 'zod'

// The policy of our pages forbids code made from text, which the schemas would otherwise try for speed.
config({ jitless: true })
