import { join, resolve } from 'node:path'
import { BackupProblem, backUp } from '../data/backup'
import { dataFolder } from '../data/folder'

/** npm run backup [-- FOLDER]: a consistent copy of the shop, also while it is in use. */
async function main(): Promise<void> {
  const folder = dataFolder()
  const into = process.argv[2] ? resolve(process.argv[2]) : join(folder, 'backups')
  const made = await backUp({ folder, into, at: new Date(), say: console.log })
  const { photos, photosLost } = made.manifest

  console.log(`Backup made: ${made.folder}`)
  if (made.chain.ok) console.log(`It holds ${made.chain.events} events and ${photos.length} photos.`)
  if (!process.argv[2]) console.log('It is on the same disk as the shop: copy that folder to another one.')
  console.log('Not in it: the pepper that goes into every PIN. Keep a copy of it apart from the backups:')
  console.log(join(folder, 'secrets', 'pepper'))

  if (!made.chain.ok) {
    console.error(`ATTENTION: the history was changed at event ${made.chain.seq} (${made.chain.because}).`)
    process.exitCode = 1
  }
  if (made.changedReadings.length > 0) {
    console.error(`ATTENTION: ${made.changedReadings.length} readings are not as they were taken, by number:`)
    console.error(`  ${made.changedReadings.join(', ')}`)
    process.exitCode = 1
  }
  if (photosLost.length > 0) {
    console.error(`ATTENTION: ${photosLost.length} photos are missing or damaged in the shop itself:`)
    for (const name of photosLost) console.error(`  ${name}`)
    console.error('Earlier backups may still have them. The rest of the backup is whole.')
    process.exitCode = 1
  }
}

main().catch((error: unknown) => {
  console.error(error instanceof BackupProblem ? error.message : error)
  process.exitCode = 1
})
