import { parseArgs } from 'node:util'
import { BackupProblem, type PepperFound, restore } from '../data/backup'
import { dataFolder } from '../data/folder'

const usage = 'npm run restore -- BACKUP NEW_FOLDER [--pepper FILE] [--even-if-changed]'

const aboutPepper: Record<PepperFound, string> = {
  given: 'The pepper you named fits: everybody signs in with the PIN they had then.',
  'from the present shop':
    'The present shop has the fitting pepper: everybody signs in with the PIN they had then.',
  none:
    'The pepper of these PINs was not found, so no PIN of this backup works any more: every PIN must be set ' +
    'again. If you have a copy of the file secrets/pepper, restore once more with --pepper FILE.',
}

/** npm run restore -- BACKUP NEW_FOLDER: checks a backup and puts it into a folder of its own. */
async function main(): Promise<void> {
  const { backup, into, pepperFile, evenIfChanged } = readArguments()
  const done = await restore({
    backup,
    into,
    pepperFile,
    presentFolder: dataFolder(),
    history: evenIfChanged ? 'may be changed' : 'must be whole',
    say: console.log,
  })
  console.log(`Restored into ${done.folder}, as it was at ${done.manifest.madeAt}.`)
  console.log(aboutPepper[done.pepper])
  if (done.manifest.photosLost.length > 0) {
    console.log(`${done.manifest.photosLost.length} photos were lost before this backup was made.`)
  }
  console.log(`Look at it with: STAND_LEDGER_DATA="${done.folder}" npm start`)
  console.log(
    'The shop that was in use is untouched. To go on with this one, stop the program, move the old data',
  )
  console.log('folder aside and this one into its place.')
}

function readArguments() {
  try {
    const { positionals, values } = parseArgs({
      allowPositionals: true,
      options: { pepper: { type: 'string' }, 'even-if-changed': { type: 'boolean', default: false } },
    })
    const [backup, into, more] = positionals
    if (!backup || !into || more) throw new BackupProblem(usage)
    return { backup, into, pepperFile: values.pepper, evenIfChanged: values['even-if-changed'] }
  } catch {
    throw new BackupProblem(usage)
  }
}

main().catch((error: unknown) => {
  console.error(error instanceof BackupProblem ? error.message : error)
  process.exitCode = 1
})
