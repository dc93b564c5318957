import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { mayDo, type PersonVerb, type Role } from '../../../lib/shop/who-may'
import { root } from './server'

/**
 * The addresses that people with these roles may open, out of the table in lib/web/pages.ts. It is read as text,
 * since that file itself runs nowhere but in the server.
 */
export function openTo(roles: readonly Role[]): string[] {
  const rows = [...table().matchAll(/^ +'(\/[^']*)': '([^']+)',$/gm)]
  if (rows.length === 0) throw new Error('The table of pages is not written as it was.')
  return rows.flatMap(([, address = '', verb = '']) =>
    verb !== 'anyone' && mayDo(roles, verb as PersonVerb) ? [address] : [],
  )
}

function table(): string {
  return (
    /const pages = \{([\s\S]*?)\n\}/.exec(readFileSync(join(root, 'lib/web/pages.ts'), 'utf8'))?.[1] ?? ''
  )
}
