import { describe, expect, it } from 'vitest'
import {
  deviceCookie,
  deviceTokenIn,
  newDeviceCookie,
  newSessionCookie,
  secureDeviceCookie,
  secureSessionCookie,
  sessionCookie,
  sessionTokenIn,
} from '../../lib/web/cookies'

const jar = (held: Record<string, string>) => (name: string) => held[name]
const expiresAt = new Date('2026-11-26T00:00:00Z')

describe('the cookies a request comes with', () => {
  it('over https win over those of plain http', () => {
    const both = jar({
      [deviceCookie]: 'old',
      [secureDeviceCookie]: 'new',
      [sessionCookie]: 's',
      [secureSessionCookie]: 'S',
    })
    expect([deviceTokenIn(both), sessionTokenIn(both)]).toEqual(['new', 'S'])
  })

  it('of plain http keep a device enrolled that comes over https for the first time', () => {
    expect(deviceTokenIn(jar({ [deviceCookie]: 'old' }))).toBe('old')
    expect(sessionTokenIn(jar({ [deviceCookie]: 'old', [sessionCookie]: 's' }))).toBe('s')
  })

  it('a session that was set over plain http signs nobody in on a device that came over https', () => {
    expect(sessionTokenIn(jar({ [secureDeviceCookie]: 'new', [sessionCookie]: 'planted' }))).toBeUndefined()
  })
})

describe('the cookies that are given', () => {
  it.each([
    ['a device', (secure: boolean) => newDeviceCookie('t', { secure })],
    ['a session', (secure: boolean) => newSessionCookie({ token: 't', expiresAt }, { secure })],
  ])('of %s over https are secure and take away what was set over plain http', (_title, make) => {
    const [kept, gone] = make(true)
    expect(kept).toMatchObject({ value: 't', secure: true, httpOnly: true, sameSite: 'lax', path: '/' })
    expect(kept?.name).toMatch(/^__Host-/)
    expect(kept).not.toHaveProperty('domain')
    expect(gone).toMatchObject({ value: '', maxAge: 0 })
    const plain = make(false)
    expect(plain).toHaveLength(1)
    expect(plain[0]).not.toHaveProperty('secure')
    expect(plain[0]?.name).toBe(gone?.name)
  })
})
