// Written so that even a very old Node can read it and say so.
import { readFileSync } from 'node:fs'
import process from 'node:process'

/**
 * What to tell a person whose Node is too old for this program, or null where it will do.
 *
 * @param {string} version as process.versions.node has it
 */
export function tooOldNode(version) {
  const wanted = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')).engines.node
  const least = wanted
    .replace(/[^0-9.]/g, '')
    .split('.')
    .map(Number)
  const have = version.split('.').map(Number)
  const enough = have[0] > least[0] || (have[0] === least[0] && have[1] >= (least[1] || 0))
  if (enough) return null
  return (
    'This needs Node ' +
    least.join('.') +
    ' or newer; here is Node ' +
    version +
    '.\n' +
    'Install a newer one from https://nodejs.org (the version marked LTS) and start again.'
  )
}

/** Ends this process with a plain message where Node is too old. */
export function requireNode() {
  const message = tooOldNode(process.versions.node)
  if (message === null) return
  process.stderr.write(`${message}\n`)
  process.exit(1)
}
