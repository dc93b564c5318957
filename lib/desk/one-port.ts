import type { Server } from 'node:http'
import type { Server as SecureServer } from 'node:https'
import { createServer, type Server as Listener, type Socket } from 'node:net'

/** How long a connection may say nothing before it is told apart. */
const SILENT_MS = 10_000
/** First octet of a TLS handshake record (RFC 8446, 5.1); no method of HTTP begins with it. */
const handshake = 22

/**
 * One port for both: whoever types the old address, or has not trusted the shop's certificate yet, is answered in plain
 * http and led on; there is no second number to remember or to open in a firewall.
 */
export function onOnePort({ plain, secure }: { plain: Server; secure: SecureServer }): Listener {
  const undecided = new Set<Socket>()
  const listener = createServer((socket) => {
    undecided.add(socket)
    const drop = () => socket.destroy()
    socket.setTimeout(SILENT_MS, drop)
    socket.once('error', drop)
    socket.once('close', () => undecided.delete(socket))
    socket.once('data', (first: Buffer) => {
      undecided.delete(socket)
      socket.setTimeout(0)
      socket.removeListener('timeout', drop)
      socket.removeListener('error', drop)
      socket.pause()
      socket.unshift(first)
      ;(first[0] === handshake ? secure : plain).emit('connection', socket)
      process.nextTick(() => socket.resume())
    })
  })
  // Neither of the two listens itself, but that is when Node begins to watch for clients that never finish a request.
  listener.once('listening', () => {
    plain.emit('listening')
    secure.emit('listening')
  })
  // Told to close, nobody who has not spoken yet holds the others up.
  const close = listener.close.bind(listener)
  listener.close = (done) => {
    for (const socket of undecided) socket.destroy()
    plain.close()
    secure.close()
    return close(done)
  }
  return listener
}
