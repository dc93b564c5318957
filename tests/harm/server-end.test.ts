import { existsSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { connect } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { currentBuild } from '../../lib/desk/build.mjs'
import { root, startShop } from '../browser/support/server'

const built = currentBuild(root) !== null
if (!built) console.warn('The server is not tried: there is no build. `npm test` makes one.')

describe.skipIf(!built)('a server that ends', () => {
  let folder: string
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'stand-ledger-end-'))
  })
  afterEach(() => rm(folder, { recursive: true, force: true }))

  it('is the only one on its shop, and the second is told so', async () => {
    const first = await startShop({ folder })
    await expect(startShop({ folder })).rejects.toThrow(/already open .*STAND_LEDGER_DATA/)
    expect((await fetch(`${first.url}/healthz`)).status).toBe(200)
    await first.close()
  })

  it('leaves a shop that opens again after a crash, with a new code for the first day', async () => {
    const first = await startShop({ folder })
    await first.crash()
    const second = await startShop({ folder })
    expect(second.firstDayCode).not.toBeNull()
    expect(second.firstDayCode).not.toBe(first.firstDayCode)
    await second.close()
  })

  it('does not wait for a visitor who never finishes his request', async () => {
    const shop = await startShop({ folder })
    const { hostname, port } = new URL(shop.url)
    const visitor = connect({ host: hostname, port: Number(port) })
    const hungUp = new Promise((done) => visitor.once('close', done))
    visitor.on('error', () => {}).resume()
    await new Promise((done) =>
      visitor.write('POST /api/v1/sync HTTP/1.1\r\nHost: shop\r\nContent-Length: 100\r\n\r\n{', done),
    )
    await shop.close()
    await hungUp
    expect(existsSync(join(folder, 'owner.pid'))).toBe(false)
  })
})
