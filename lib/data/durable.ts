import { randomUUID } from 'node:crypto'
import { mkdir, open, readFile, rename, rm } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'

/**
 * Writes a file so that after a power cut it is there whole or not at all: under another name, flushed to
 * the disk, renamed, and the folder flushed because a rename is on the disk only once its folder is.
 */
export async function writeDurably(file: string, bytes: Uint8Array | string): Promise<void> {
  const folder = dirname(file)
  await mkdir(folder, { recursive: true })
  const unfinished = join(folder, `.${basename(file)}.${randomUUID()}.part`)
  try {
    const handle = await open(unfinished, 'wx')
    try {
      await handle.writeFile(bytes)
      await handle.sync()
    } finally {
      await handle.close()
    }
    await rename(unfinished, file)
    await syncFolder(folder)
  } catch (error) {
    await rm(unfinished, { force: true })
    throw error
  }
}

export async function syncFile(file: string): Promise<void> {
  const handle = await open(file, 'r+')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}

/** Windows cannot open a folder to flush it and needs no such call. */
export async function syncFolder(folder: string): Promise<void> {
  if (process.platform === 'win32') return
  const handle = await open(folder, 'r')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}

export async function readOrNull(file: string): Promise<Buffer | null> {
  try {
    return await readFile(file)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null
    throw error
  }
}
