import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import process from 'node:process'
import { Trouble } from './step.mjs'

const MARK = 'this-is-the-invented-shop.txt'

/**
 * Makes sure that a folder holds the invented shop or nothing: a real shop must never be played with, let
 * alone thrown away, because a setting named the wrong folder.
 *
 * @param {string} folder
 * @param {{ fresh: boolean }} how
 */
export function openDemoFolder(folder, { fresh }) {
  const filled = existsSync(folder) && readdirSync(folder).length > 0
  if (filled && !isDemoFolder(folder)) {
    throw new Trouble(
      `${folder} holds something that is not the invented shop. Name another folder, or none.`,
    )
  }
  if (fresh && isOpen(folder))
    throw new Trouble('The invented shop is open in another window. Close it there.')
  if (fresh) rmSync(folder, { recursive: true, force: true })
  mkdirSync(folder, { recursive: true })
  writeFileSync(
    join(folder, MARK),
    'Everything in this folder is invented. It is thrown away by: npm run demo -- --fresh\n',
  )
}

/**
 * Refuses to run a real shop on the invented one's data.
 *
 * @param {string} folder
 */
export function refuseDemoFolder(folder) {
  if (!isDemoFolder(folder)) return
  throw new Trouble(`${folder} holds the invented shop. Start that with: npm run demo`)
}

/** @param {string} folder */
function isDemoFolder(folder) {
  return existsSync(join(folder, MARK))
}

/** Whether the process that wrote itself down as the owner of the folder still runs. @param {string} folder */
function isOpen(folder) {
  const file = join(folder, 'owner.pid')
  if (!existsSync(file)) return false
  try {
    return process.kill(Number(readFileSync(file, 'utf8')), 0)
  } catch {
    return false
  }
}
