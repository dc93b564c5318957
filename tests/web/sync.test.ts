import { uuidv7 } from 'uuidv7'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { currentBuild } from '../../lib/desk/build.mjs'
import { type Demo, startDemo } from '../browser/support/demo'
import type { DemoBike } from '../browser/support/people'
import { root } from '../browser/support/server'

const built = currentBuild(root) !== null
if (!built) console.warn('The sync route is not tried: there is no build. `npm test` makes one.')

describe.skipIf(!built)('POST /api/v1/sync over the wire', () => {
  let demo: Demo
  let bike: DemoBike

  beforeAll(async () => {
    demo = await startDemo()
    bike = (await demo.bikes())[0]!
  })
  afterAll(() => demo?.close())

  const wyn = () => demo.people.technician

  const reading = (over: object = {}) => ({
    id: uuidv7(),
    bike: bike.id,
    check: 'battery-rest-volts',
    position: 'posts',
    kind: 'measured',
    value: '12.61',
    unit: 'V',
    conditions: ['rested', 'off'],
    takenAt: new Date().toISOString(),
    ...over,
  })
  const operation = (body: object, over: object = {}) => ({
    id: uuidv7(),
    author: wyn().person,
    deed: 'record-reading',
    body,
    ...over,
  })
  const send = (body: unknown, { headers = {}, as = wyn().cookie }: { headers?: object; as?: string } = {}) =>
    fetch(`${demo.url}/api/v1/sync`, {
      method: 'POST',
      headers: {
        cookie: as,
        origin: demo.url,
        'content-type': 'application/json',
        ...headers,
      },
      body: typeof body === 'string' ? body : JSON.stringify(body),
    })
  const stored = async () => {
    const rows = await demo.ask<{ id: string; value: string; personId: string }[]>({
      want: 'readings',
      bike: bike.id,
    })
    return new Map(rows.map((row) => [row.id, row]))
  }

  const heard = async (answer: Response) =>
    (await answer.json()) as { ok: boolean; contract: number; serverTime: string; answers: unknown[] }

  it('understands tablets of today and of the first builds, and says what it speaks and how late it is', async () => {
    const [old, now] = [reading(), reading()]
    const sending = { contract: 2, sentAt: new Date().toISOString(), waiting: 3 }
    const told = await heard(await send({ operations: [operation(old)] }))
    expect(told.contract).toBe(2)
    expect(Number.isNaN(Date.parse(told.serverTime))).toBe(false)
    expect((await send({ ...sending, operations: [operation(now)] })).status).toBe(200)
    const kept = await stored()
    expect([old, now].map(({ id }) => kept.has(id))).toEqual([true, true])
  })

  it('leaves what a newer page recorded on its tablet until the server is as new', async () => {
    const body = reading()
    const answer = await send({ contract: 3, operations: [operation(body)], something: 'new' })
    expect(answer.status).toBe(429)
    expect(answer.headers.get('retry-after')).toBe('60')
    expect((await stored()).has(body.id)).toBe(false)
  })

  it('records a reading under the name of whoever is signed in', async () => {
    const body = reading()
    const answer = await send({ operations: [operation(body)] })
    expect(answer.status).toBe(200)
    expect(answer.headers.get('cache-control')).toBe('no-store')
    expect(await answer.json()).toMatchObject({
      ok: true,
      answers: [{ ok: true, answer: { reading: body.id } }],
    })
    expect((await stored()).get(body.id)).toMatchObject({ value: '12.61', personId: wyn().person })
  })

  it('goes on after one that is refused, and answers each under its own id', async () => {
    const [before, wrong, after] = [reading(), reading({ value: '500' }), reading()]
    const operations = [before, wrong, after].map((body) => operation(body))
    const { answers } = (await (await send({ operations })).json()) as {
      answers: { id: string; ok: boolean }[]
    }
    expect(answers.map(({ id, ok }) => [id, ok])).toEqual([
      [operations[0]!.id, true],
      [operations[1]!.id, false],
      [operations[2]!.id, true],
    ])
    const kept = await stored()
    expect([before, wrong, after].map(({ id }) => kept.has(id))).toEqual([true, false, true])
  })

  it.each([
    ['no device and no session', ''],
    ['a session without its device', 'session'],
    ['a device without a session', 'device'],
    ['a made-up session', 'invented'],
  ])('refuses %s', async (_what, part) => {
    const { device, session } = wyn()
    const cookies: Record<string, string> = {
      '': '',
      session: `sl_session=${session}`,
      device: `sl_device=${device}`,
      invented: `sl_device=${device}; sl_session=${'A'.repeat(43)}`,
    }
    const body = reading()
    const answer = await send({ operations: [operation(body)] }, { as: cookies[part]! })
    expect(answer.status).toBe(401)
    expect(await answer.json()).toMatchObject({ ok: false, refusal: { kind: 'not-signed-in' } })
    expect((await stored()).has(body.id)).toBe(false)
  })

  it("does not take another person's session on this device", async () => {
    const stolen = `sl_device=${wyn().device}; sl_session=${demo.people.manager.session}`
    expect((await send({ operations: [operation(reading())] }, { as: stolen })).status).toBe(401)
  })

  it.each(['buy-bike', 'clear-lock', 'change-figures', '__proto__', 'constructor'])(
    'opens no way to a deed that is not for tablets: %s',
    async (deed) => {
      const answer = await send({ operations: [operation({}, { deed })] })
      expect(answer.status).toBe(422)
      expect(await answer.json()).toMatchObject({
        refusal: { kind: 'malformed', fields: expect.any(Object) },
      })
    },
  )

  it('refuses the reading of a bike that is not there, in its place', async () => {
    const answer = await send({ operations: [operation(reading({ bike: uuidv7() }))] })
    expect(await answer.json()).toMatchObject({ answers: [{ ok: false, refusal: { kind: 'not-found' } }] })
  })

  it('says at which field a reading is wrong', async () => {
    const answer = await send({ operations: [operation(reading({ value: '', unit: 'furlong' }))] })
    const { answers } = (await answer.json()) as {
      answers: { refusal: { fields: Record<string, string> } }[]
    }
    expect(Object.keys(answers[0]!.refusal.fields).sort()).toEqual(['unit', 'value'])
    expect(answers[0]!.refusal.fields.value).toBe('Enter a value first.')
  })

  it('says at which operation the envelope is wrong', async () => {
    const answer = await send({ operations: [operation(reading()), operation(reading(), { id: 'seven' })] })
    expect(answer.status).toBe(422)
    const { refusal } = (await answer.json()) as { refusal: { fields: Record<string, string> } }
    expect(Object.keys(refusal.fields)).toEqual(['operations.1.id'])
  })

  it('answers the same operation twice alike and does it once', async () => {
    const body = reading()
    const sent = { operations: [operation(body)] }
    const count = (await stored()).size
    const [first, second] = [await send(sent), await send(sent)]
    expect((await heard(second)).answers).toEqual((await heard(first)).answers)
    expect((await stored()).size).toBe(count + 1)
  })

  it('does the same operation once when it comes many times at the same moment', async () => {
    const body = reading()
    const sent = { operations: [operation(body)] }
    const count = (await stored()).size
    const all = await Promise.all(Array.from({ length: 8 }, async () => heard(await send(sent))))
    expect(new Set(all.map(({ answers }) => JSON.stringify(answers))).size).toBe(1)
    expect((await stored()).size).toBe(count + 1)
  })

  it('refuses the same id with another body, and keeps the first', async () => {
    const body = reading()
    const one = operation(body)
    await send({ operations: [one] })
    const answer = await send({ operations: [{ ...one, body: { ...body, value: '12.05' } }] })
    expect(await answer.json()).toMatchObject({ answers: [{ ok: false, refusal: { kind: 'malformed' } }] })
    expect((await stored()).get(body.id)?.value).toBe('12.61')
  })

  it.each([
    ['another site', { origin: 'http://elsewhere.example' }],
    ['another port of this machine', { origin: 'http://127.0.0.1:1' }],
    ['a page without a place', { origin: 'null' }],
    ['another site by fetch metadata', { 'sec-fetch-site': 'cross-site' }],
  ])('refuses what was sent from %s', async (_where, headers) => {
    const body = reading()
    const answer = await send({ operations: [operation(body)] }, { headers })
    expect(answer.status).toBe(403)
    expect((await stored()).has(body.id)).toBe(false)
  })

  it.each([
    ['words', 'not json'],
    ['half an object', '{"operations":['],
    ['nothing', ''],
    ['a list', '[]'],
    ['null', 'null'],
  ])('refuses %s as a body', async (_what, body) => {
    const answer = await send(body)
    expect(answer.status).toBe(422)
    expect(await answer.json()).toMatchObject({ ok: false, refusal: { kind: 'malformed' } })
  })

  it('refuses more operations than one sending may carry, and takes none of them', async () => {
    const bodies = Array.from({ length: 201 }, () => reading())
    const answer = await send({ operations: bodies.map((body) => operation(body)) })
    expect(answer.status).toBe(422)
    const kept = await stored()
    expect(bodies.some(({ id }) => kept.has(id))).toBe(false)
  })

  it('refuses a body of more than a megabyte', async () => {
    const answer = await send({ operations: [operation(reading({ note: 'x'.repeat(1_000_000) }))] })
    expect(answer.status).toBe(422)
    expect(await answer.json()).toMatchObject({ refusal: { message: expect.stringContaining('1 MB') } })
  })

  it('answers other methods with the one that is allowed', async () => {
    const answer = await fetch(`${demo.url}/api/v1/sync`, { headers: { cookie: wyn().cookie } })
    expect(answer.status).toBe(405)
  })
})
