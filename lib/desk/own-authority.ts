import tls from 'node:tls'

/**
 * Lets this process trust an authority of its own besides the usual ones, for the connections it opens: after an action
 * the pages are asked for over our own address. The environment could say so only before the process began, when the
 * authority may not be made yet. Answers how to undo it.
 */
export function trustInThisProcess(pem: string): () => void {
  const usual = tls.createSecureContext
  tls.createSecureContext = (options) => {
    const made = usual(options)
    const own = made.context as { addCACert(pem: string): void }
    if (options?.ca === undefined) own.addCACert(pem)
    return made
  }
  return () => {
    tls.createSecureContext = usual
  }
}
