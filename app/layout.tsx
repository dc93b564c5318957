import type { Metadata, Viewport } from 'next'
import { cookies } from 'next/headers'
import type { ReactNode } from 'react'
import { lookCookie, lookIn } from './_ui/look'
import './globals.css'
import { PlainNotice } from './plain-notice'

export const metadata: Metadata = {
  title: { default: 'Stand & Ledger', template: '%s · Stand & Ledger' },
  description: 'From the first look at a bike to its place on the board.',
  robots: { index: false, follow: false },
  formatDetection: { telephone: false, date: false, address: false, email: false },
}

export const viewport: Viewport = { themeColor: '#f5f0e6', width: 'device-width', initialScale: 1 }

/** Every answer carries its own nonce for its scripts, so no page can be made beforehand. */
export const dynamic = 'force-dynamic'

export default async function RootLayout({ children }: { children: ReactNode }) {
  const look = lookIn((await cookies()).get(lookCookie)?.value)
  return (
    <html lang="en" data-look={look} suppressHydrationWarning>
      <body>
        <a className="skip-link" href="#main">
          Skip to the page
        </a>
        <PlainNotice />
        {children}
      </body>
    </html>
  )
}
