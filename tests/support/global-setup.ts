import { ensureGenerated } from '../../lib/desk/generate.mjs'

/** Before any test: the database client must exist, or no file that imports the store can be loaded. */
export default function setup(): void {
  ensureGenerated({ log: console.log })
}
