/**
 * What a page of ours may load and where it may send: only from and to this server, and scripts only with
 * the nonce of this very answer (CSP level 3). There is deliberately no `upgrade-insecure-requests`: a shop's
 * own network is often plain http, and that directive would make every page there unreadable.
 */
export function contentSecurityPolicy(nonce: string): string {
  return [
    "default-src 'self'",
    `script-src 'self' 'nonce-${nonce}' 'strict-dynamic'`,
    "style-src 'self'",
    "img-src 'self' blob: data:",
    "connect-src 'self'",
    "font-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "frame-ancestors 'none'",
    "form-action 'self'",
  ].join('; ')
}

/** The headers that stand on every answer of the server, whatever it is. Names are in lower case. */
export function securityHeaders(nonce: string): Readonly<Record<string, string>> {
  return {
    'content-security-policy': contentSecurityPolicy(nonce),
    'x-content-type-options': 'nosniff',
    'referrer-policy': 'same-origin',
    'permissions-policy': 'camera=(self), microphone=(), geolocation=(), payment=(), usb=()',
    'cross-origin-opener-policy': 'same-origin',
    'cross-origin-resource-policy': 'same-origin',
  }
}

/**
 * Headers of a request that only the server itself may set. With the first one a stranger could once walk
 * round the checks of a page (CVE-2025-29927); the others would let him choose the nonce of his own scripts.
 */
export const headersOnlyWeSet = [
  'x-middleware-subrequest',
  'content-security-policy',
  'content-security-policy-report-only',
  'x-nonce',
] as const
