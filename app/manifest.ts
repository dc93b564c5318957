import type { MetadataRoute } from 'next'

/** Lets a tablet put the shop on its first screen and open it there like any other tool of its own. */
export default function manifest(): MetadataRoute.Manifest {
  return {
    id: '/',
    name: 'Stand & Ledger',
    short_name: 'Stand & Ledger',
    description: 'From the first look at a bike to its place on the board.',
    start_url: '/',
    scope: '/',
    display: 'standalone',
    background_color: '#f5f0e6',
    theme_color: '#f5f0e6',
    icons: [
      { src: '/icon.svg', sizes: 'any', type: 'image/svg+xml' },
      { src: '/apple-icon.png', sizes: '180x180', type: 'image/png' },
    ],
  }
}
