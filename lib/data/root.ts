import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

/**
 * The project's own folder, found by walking up from this file: commands must find the schema and the
 * migrations from whatever folder they are called in. In a built server this file lies in the build's
 * folder, which is inside the project too.
 */
export function projectRoot(): string {
  return rootAbove(dirname(fileURLToPath(import.meta.url))) ?? rootAbove(process.cwd()) ?? missing()
}

function rootAbove(start: string): string | null {
  for (let folder = start; ; folder = dirname(folder)) {
    const file = join(folder, 'package.json')
    if (existsSync(file) && JSON.parse(readFileSync(file, 'utf8')).name === 'stand-ledger') return folder
    if (folder === dirname(folder)) return null
  }
}

function missing(): never {
  throw new Error('The project folder with package.json was not found.')
}
