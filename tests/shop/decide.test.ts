import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { checkChain } from '../../lib/data/events'
import { decide, withdrawDecision } from '../../lib/shop/decide'
import { readWork } from '../../lib/shop/read-work'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { answer, takenIn } from '../support/readings'

let shop: OpenShop
let bike: string
let viewingNo: number
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await takenIn(shop))
})
afterEach(() => shop.dispose())

type Sent = Record<string, unknown>
const sent = (decision: Sent) => ({
  bike,
  decision: { id: uuidv7(), reason: 'seen at the viewing', ...decision },
})
const make = async (decision: Sent) => done(await decide(sent(decision), shop.dealer)).decision
const refusedFor = async (decision: Sent) => refused(await decide(sent(decision), shop.dealer))
const work = () => readWork(shop.dealer, String(viewingNo))
const standing = () =>
  shop.store.db.decision.findMany({ where: { withdrawnAt: null }, orderBy: { id: 'asc' } })

const three = (low: string, likely: string, high: string) => ({ low, likely, high })

describe('what a person sets against the readings', () => {
  test('adds a fault out of the list, and its job with it', async () => {
    await make({ kind: 'add-fault', key: 'tank-rust' })
    const { faults, jobs } = await work()
    expect(faults).toMatchObject([{ key: 'tank-rust', added: true, own: false }])
    expect(jobs.find(({ key }) => key === 'tank-reseal')).toMatchObject({ certain: true, chance: 1 })
  })

  test('adds a fault that the list does not have, with what it takes off as it was typed', async () => {
    const own = { title: 'Mirror bent', call: 'leave', job: '', saleOffMinor: '35.50' }
    await make({ kind: 'add-fault', key: 'own-mirror', own })
    const { faults, left } = await work()
    expect(faults).toMatchObject([{ title: 'Mirror bent', call: 'leave', own: true }])
    expect(left).toMatchObject([{ title: 'Mirror bent', saleOffMinor: 3550, doing: null }])
  })

  test('drops a fault that a check found, and keeps in sight that it did', async () => {
    await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
    expect((await work()).faults.map(({ key }) => key)).toEqual(['tank-rust'])
    await make({ kind: 'drop-fault', key: 'tank-rust', reason: 'only dust' })
    const { faults, dropped } = await work()
    expect(faults).toEqual([])
    expect(dropped).toMatchObject([
      { key: 'tank-rust', decisions: [{ kind: 'drop-fault', reason: 'only dust', who: 'Dele' }] },
    ])
  })

  test('changes a call', async () => {
    await make({ kind: 'add-fault', key: 'tank-rust' })
    await make({ kind: 'change-call', key: 'tank-rust', call: 'leave' })
    const [fault] = (await work()).faults
    expect(fault).toMatchObject({ call: 'leave', derivedCall: 'must' })
    expect(fault?.decisions.map(({ kind, chosen }) => [kind, chosen])).toEqual([
      ['add-fault', null],
      ['change-call', 'leave'],
    ])
  })

  test('chooses another of the jobs that may cure a fault', async () => {
    await make({ kind: 'add-fault', key: 'air-leak' })
    const before = await work()
    expect(before.faults[0]?.alternatives.map(({ key }) => key)).toEqual([
      'intake-boots',
      'carburettor-clean',
    ])
    expect(before.jobs.filter(({ certain }) => certain).map(({ key }) => key)).toEqual(['intake-boots'])
    await make({ kind: 'choose-job', key: 'air-leak', job: 'carburettor-clean' })
    const { faults, jobs } = await work()
    expect(faults[0]?.alternatives.map(({ key }) => key)).toEqual(['carburettor-clean', 'intake-boots'])
    expect(faults[0]?.decisions.at(-1)).toMatchObject({
      kind: 'choose-job',
      chosen: before.faults[0]?.alternatives[1]?.title,
    })
    expect(jobs.filter(({ certain }) => certain).map(({ key }) => key)).toEqual(['carburettor-clean'])
  })

  test('names the one cause among several', async () => {
    await make({ kind: 'add-fault', key: 'no-charge' })
    const causes = (await work()).faults[0]?.alternatives ?? []
    expect(causes.length).toBeGreaterThan(1)
    expect(causes.reduce((sum, { share }) => sum + (share ?? 0), 0)).toBeCloseTo(1)
    const last = causes.at(-1)!
    await make({ kind: 'choose-job', key: 'no-charge', job: last.key })
    const { faults, jobs } = await work()
    expect(faults[0]?.alternatives).toHaveLength(causes.length)
    expect(faults[0]?.alternatives[0]).toMatchObject({ key: last.key, share: 1 })
    expect(jobs.find(({ key }) => key === last.key)?.certain).toBe(true)
  })

  test('adds a job, changes its hours on this bike as typed, and drops it again', async () => {
    await make({ kind: 'add-job', key: 'valve-clearances' })
    await make({ kind: 'change-job', key: 'valve-clearances', hours: three('1', '1.5', '3') })
    const changed = (await work()).jobs.find(({ key }) => key === 'valve-clearances')
    expect(changed).toMatchObject({
      added: true,
      changed: true,
      certain: true,
      hours: { low: 1, likely: 1.5, high: 3 },
    })
    expect(changed?.usual.hours).not.toEqual(changed?.hours)
    await make({ kind: 'drop-job', key: 'valve-clearances' })
    const { jobs, droppedJobs, idle } = await work()
    expect(jobs.find(({ key, certain }) => key === 'valve-clearances' && certain)).toBeUndefined()
    expect([...droppedJobs.flatMap(({ decisions }) => decisions), ...idle].map(({ kind }) => kind)).toContain(
      'drop-job',
    )
  })

  test('adds a job of its own with a part as typed; empty lines are no parts', async () => {
    const own = {
      title: 'Mirror straightened',
      hours: three('0.2', '0,3', '0.5'),
      parts: {
        0: { name: 'glass', qty: '2', unitCost: three('4', '5.50', '9') },
        1: { name: '', qty: '1', unitCost: three('0', '0', '0') },
      },
      outsideWork: three('', '20', ''),
    }
    await make({ kind: 'add-job', key: 'own-mirror', own })
    expect((await work()).jobs.find(({ key }) => key === 'own-mirror')).toMatchObject({
      own: true,
      certain: true,
      hours: { low: 0.2, likely: 0.3, high: 0.5 },
      parts: [{ name: 'glass', qty: 2, unitCost: { low: 400, likely: 550, high: 900 } }],
      outsideWork: 2000,
    })
  })

  test('takes figures that are numbers already as they are', async () => {
    await make({ kind: 'change-job', key: 'tank-reseal', hours: 2, parts: [] })
    const [row] = await standing()
    expect(JSON.parse(row?.body ?? '')).toEqual({ hours: 2, parts: [] })
  })
})

describe('a later decision', () => {
  test('takes the place of an earlier one of its kind, which stays in the record', async () => {
    await make({ kind: 'add-fault', key: 'tank-rust' })
    await make({ kind: 'change-call', key: 'tank-rust', call: 'leave' })
    await make({ kind: 'change-call', key: 'tank-rust', call: 'stop' })
    expect((await work()).faults[0]?.call).toBe('stop')
    expect((await standing()).map(({ kind }) => kind)).toEqual(['add-fault', 'change-call'])
    expect(await shop.store.db.decision.count()).toBe(3)
  })

  test.each([
    ['add-fault', 'drop-fault', 'tank-rust'],
    ['add-job', 'drop-job', 'valve-clearances'],
  ])('of the other sort takes %s back, and the other way round', async (adding, dropping, key) => {
    for (const kind of [adding, dropping, adding]) {
      await make({ kind, key })
      expect((await standing()).map((row) => row.kind)).toEqual([kind])
    }
  })

  test('about something else leaves it alone', async () => {
    await make({ kind: 'drop-fault', key: 'tank-rust' })
    await make({ kind: 'drop-fault', key: 'front-pads-worn' })
    expect(await standing()).toHaveLength(2)
  })
})

describe('taking a decision back', () => {
  test('lets the readings speak again', async () => {
    await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
    const decision = await make({ kind: 'drop-fault', key: 'tank-rust' })
    done(await withdrawDecision({ decision, version: '1' }, shop.dealer))
    expect((await work()).faults.map(({ key }) => key)).toEqual(['tank-rust'])
    expect((await shop.store.db.decision.findMany()).map(({ withdrawnAt }) => withdrawnAt)).toEqual([
      shop.dealer.now,
    ])
  })

  test('is refused the second time, and for one that somebody has overtaken', async () => {
    const decision = await make({ kind: 'add-fault', key: 'tank-rust' })
    done(await withdrawDecision({ decision, version: 1 }, shop.dealer))
    expect(refused(await withdrawDecision({ decision, version: 1 }, shop.dealer)).kind).toBe('stale')
    const overtaken = await make({ kind: 'add-fault', key: 'tank-rust' })
    await make({ kind: 'drop-fault', key: 'tank-rust' })
    expect(refused(await withdrawDecision({ decision: overtaken, version: 1 }, shop.manager)).kind).toBe(
      'stale',
    )
  })

  test('is refused for a decision that is not there', async () => {
    const away = { decision: uuidv7(), version: 1 }
    expect(refused(await withdrawDecision(away, shop.dealer)).kind).toBe('not-found')
  })
})

describe('who may decide', () => {
  test('dealers and managers; not the bench, not somebody unknown', async () => {
    const decision = sent({ kind: 'add-fault', key: 'tank-rust' })
    expect(refused(await decide(decision, shop.technician)).kind).toBe('not-allowed')
    expect(refused(await decide(decision, shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await withdrawDecision({ decision: uuidv7(), version: 1 }, shop.technician)).kind).toBe(
      'not-allowed',
    )
    expect(await shop.store.db.decision.count()).toBe(0)
    done(await decide(decision, shop.manager))
  })

  test('only about a bike that is there', async () => {
    const decision = { ...sent({ kind: 'add-fault', key: 'tank-rust' }), bike: uuidv7() }
    expect(refused(await decide(decision, shop.dealer)).kind).toBe('not-found')
  })

  test('every decision and every taking back writes its event', async () => {
    const decision = await make({ kind: 'add-fault', key: 'tank-rust', reason: 'seen with a lamp' })
    done(await withdrawDecision({ decision, version: 1 }, shop.dealer))
    const events = await shop.store.db.event.findMany({
      where: { verb: 'decision:make' },
      orderBy: { seq: 'asc' },
    })
    expect(events.map(({ bikeId, body }) => [bikeId, JSON.parse(body)])).toEqual([
      [bike, { id: decision, kind: 'add-fault', key: 'tank-rust', reason: 'seen with a lamp' }],
      [bike, { withdrew: decision }],
    ])
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })
})

describe('a decision that cannot be read', () => {
  const own = { title: 'Mirror straightened', hours: three('1', '2', '3'), parts: {} }
  const part = (over: object) => ({ 0: { name: 'glass', qty: '1', unitCost: three('4', '5', '6'), ...over } })
  const malformed: [string, Sent, string][] = [
    ['without a reason', { kind: 'drop-fault', key: 'tank-rust', reason: '  ' }, 'reason'],
    ['whose reason holds a NUL', { kind: 'drop-fault', key: 'tank-rust', reason: 'a\u0000b' }, 'reason'],
    ['about nothing chosen', { kind: 'add-fault', key: '' }, 'key'],
    ['about a fault that is not in the list', { kind: 'add-fault', key: 'gremlins' }, 'key'],
    ['about a job that is not in the list', { kind: 'drop-job', key: 'tank-rust' }, 'key'],
    ['with a call that is none', { kind: 'change-call', key: 'tank-rust', call: 'maybe' }, 'call'],
    ['with no job chosen', { kind: 'choose-job', key: 'tank-rust', job: '' }, 'job'],
    ['with a job that is not in the list', { kind: 'choose-job', key: 'tank-rust', job: 'gremlins' }, 'job'],
    [
      'with a fault of one’s own cured by a job that is not in the list',
      { kind: 'add-fault', key: 'own-1', own: { title: 'Bent', call: 'must', job: 'gremlins' } },
      'own.job',
    ],
    [
      'with a fault of one’s own without a name',
      { kind: 'add-fault', key: 'own-1', own: { title: '', call: 'must', job: '' } },
      'own.title',
    ],
    [
      'with an amount in words',
      {
        kind: 'add-fault',
        key: 'own-1',
        own: { title: 'Bent', call: 'must', job: '', saleOffMinor: 'some' },
      },
      'own.saleOffMinor',
    ],
    [
      'with hours in words',
      { kind: 'add-job', key: 'own-1', own: { ...own, hours: three('', 'long', '') } },
      'own.hours.likely',
    ],
    [
      'with the low above the likely',
      { kind: 'change-job', key: 'tank-reseal', hours: three('3', '2', '4') },
      'hours.low',
    ],
    [
      'with a part without its price',
      { kind: 'add-job', key: 'own-1', own: { ...own, parts: part({ unitCost: three('', '', '') }) } },
      'own.parts.0.unitCost.likely',
    ],
    [
      'with none of a part',
      { kind: 'change-job', key: 'tank-reseal', parts: part({ qty: '0' }) },
      'parts.0.qty',
    ],
    ['that changes nothing of a job', { kind: 'change-job', key: 'tank-reseal' }, 'hours.likely'],
  ]
  test.each(malformed)('%s is refused at the field', async (_what, decision, field) => {
    const refusal = await refusedFor(decision)
    expect(refusal.kind).toBe('malformed')
    expect(Object.keys(refusal.fields)).toEqual([`decision.${field}`])
    expect(refusal.fields[`decision.${field}`]).toMatch(/^[A-Z][^:]*\.$/)
    expect(await shop.store.db.decision.count()).toBe(0)
  })

  test('names every field that needs another look at once', async () => {
    const { fields } = await refusedFor({
      kind: 'add-job',
      key: 'own-1',
      reason: '',
      own: { ...own, title: '', hours: three('', '', '') },
    })
    expect(Object.keys(fields).sort()).toEqual([
      'decision.own.hours.likely',
      'decision.own.title',
      'decision.reason',
    ])
  })

  test('is refused where it was written down already', async () => {
    const decision = sent({ kind: 'add-fault', key: 'tank-rust' })
    done(await decide(decision, shop.dealer))
    expect(refused(await decide(decision, shop.dealer)).message).toContain('sent before')
    expect(await standing()).toHaveLength(1)
  })
})
