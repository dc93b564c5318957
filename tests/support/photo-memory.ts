import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { photoStore } from '../../lib/data/photos'

/*
 * A process of its own that keeps the largest photos that are taken, several at once, and bombs between them, and says
 * how much memory it held at most: the figure a test can bound without the tests' own memory in it.
 */
const folder = mkdtempSync(join(tmpdir(), 'stand-ledger-photos-'))
const store = photoStore(folder)
const largest = await sharp({ create: { width: 8000, height: 6200, channels: 3, background: '#806040' } })
  .jpeg()
  .toBuffer()
const bomb = await sharp({
  create: { width: 20_000, height: 20_000, channels: 3, background: '#000000' },
  limitInputPixels: false,
})
  .png({ compressionLevel: 9 })
  .toBuffer()
const before = process.memoryUsage().rss
let most = before
const watching = setInterval(() => {
  most = Math.max(most, process.memoryUsage().rss)
}, 5)
const sent = Array.from({ length: 12 }, (_, no) => store.keep(no % 3 === 2 ? bomb : largest))
const came = await Promise.allSettled(sent)
clearInterval(watching)
rmSync(folder, { recursive: true, force: true })
const kept = came.filter(({ status }) => status === 'fulfilled').length
process.stdout.write(JSON.stringify({ kept, refused: came.length - kept, grownBytes: most - before }))
