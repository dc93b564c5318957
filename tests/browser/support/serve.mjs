// The server as its own process, the way it runs in a shop: started by startShop in server.ts beside this.
import process from 'node:process'
import { register } from 'tsx/esm/api'

register()
const { startServer } = await import('../../../lib/desk/server.ts')
const { folder, distDir, demo, https, alongside } = JSON.parse(process.argv[2] ?? '')
const server = await startServer({ folder, distDir, demo, https, port: 0, host: '127.0.0.1' })
process.once('SIGTERM', () => server.close().then(() => process.exit(0)))
const answer = alongside ? (await import(alongside)).default : null
process.on('message', async ({ no, asked }) => {
  try {
    process.send?.({ no, answer: await answer(server.store, asked) })
  } catch (error) {
    process.send?.({ no, failed: String(error) })
  }
})
process.send?.({ url: server.url, firstDayCode: server.firstDayCode })
