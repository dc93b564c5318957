import type { Server } from 'node:https'
import { type Certificates, openCertificates, type Wanted } from './certificates'

/** What connections of a server that are begun from now on are shown. */
export const certificateShown = ({ server: { key, cert } }: Certificates) =>
  ({ key, cert, minVersion: 'TLSv1.2' }) as const

/**
 * Makes the certificate of a running server anew where it has to be. Connections that are open stay as they are, the
 * next ones are shown the new one. True where there was something to renew.
 *
 * @throws CertificateProblem
 */
export async function renewCertificate(
  secure: Pick<Server, 'setSecureContext'>,
  wanted: Wanted,
): Promise<boolean> {
  const own = await openCertificates(wanted)
  if (own.made.server) secure.setSecureContext(certificateShown(own))
  return own.made.server
}
