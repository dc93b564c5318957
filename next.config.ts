import type { NextConfig } from 'next'

/** Where this build goes or lies: told by whoever builds or starts, so that a new build never touches one in use. */
const told = process.env.STAND_LEDGER_BUILD

const config: NextConfig = {
  distDir: told ?? '.next',
  // `npm run check` looks at the types; a build only has to be quick.
  typescript: { ignoreBuildErrors: true, tsconfigPath: told ? '.build/tsconfig.json' : 'tsconfig.json' },
  turbopack: { root: import.meta.dirname },
  poweredByHeader: false,
  // Photos are made smaller when they are taken in, not when they are shown.
  images: { unoptimized: true },
  // These hold compiled parts or look for files beside themselves.
  serverExternalPackages: [
    '@node-rs/argon2',
    '@prisma/adapter-better-sqlite3',
    '@prisma/client',
    '@prisma/schema-engine-wasm',
    'better-sqlite3',
    'pino',
    'sharp',
  ],
}

export default config
