/** The name of the build in use, as its folder is called; empty where pages are served without one. */
export function buildName(): string {
  return process.env.STAND_LEDGER_BUILD?.split(/[\\/]/).at(-1) ?? ''
}
