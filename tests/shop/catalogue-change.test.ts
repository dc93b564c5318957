import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { startingCatalogue } from '../../lib/catalogue/starting-catalogue'
import { entryKinds } from '../../lib/core/checks/catalogue-problems'
import { appendEvent } from '../../lib/data/events'
import { isOwn, readCatalogue, tables } from '../../lib/shop/catalogue'
import { knownInstruments } from '../../lib/shop/catalogue-change'
import { type Draft, entryForms, entryFromForm, shopSource } from '../../lib/shop/catalogue-forms'
import { nested, type Typed, typedWhole } from '../../lib/shop/catalogue-typed'
import {
  addEntry,
  changeEntry,
  entryBackToStart,
  takeEntryOut,
  takeEntryUp,
} from '../../lib/shop/change-catalogue'
import { readCatalogueEntry, readCatalogueList, readCatalogueOverview } from '../../lib/shop/read-catalogue'
import { done, type OpenShop, openTestShop, refused, testNow } from '../support/open-shop'

type Kind = (typeof entryKinds)[number]

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

const shown = (kind: Kind, key: string) => readCatalogueEntry(shop.store.db, { kind, key })
const catalogue = () => readCatalogue(shop.store.db)

/** What the form of an entry sends: all that stands there, and what was typed over it. */
async function sent(kind: Kind, key: string, over: Typed = {}) {
  const { typed, version } = await shown(kind, key)
  return { kind, key, version: String(version), ...nested({ ...typed, ...over }) }
}

const change = async (kind: Kind, key: string, over: Typed) =>
  changeEntry(await sent(kind, key, over), shop.manager)

describe('an entry of the catalogue', () => {
  it.each(entryKinds)('is what it was where its form is read as it stands: every %s', (kind) => {
    for (const entry of startingCatalogue[tables[kind]]) {
      const draft = entryForms[kind].parse(nested(typedWhole(kind, entry))) as Draft<Kind>
      const before = { kind, key: entry.key, now: entry }
      const { entry: after, messages } = entryFromForm(before, draft, knownInstruments)
      expect(messages, entry.key).toEqual({})
      // Whoever saves a job's figures has looked at them, which its source says from then on.
      const source = kind === 'job' ? { source: shopSource } : {}
      expect(after, entry.key).toEqual({ ...entry, ...source })
    }
  })

  it('leaves no trace where its form is saved as it stands', async () => {
    done(await change('check', 'fuel-leaks', {}))
    expect(await shop.store.db.catalogueChange.count()).toBe(0)
    expect(await shop.store.db.event.count({ where: { verb: 'catalogue:change' } })).toBe(0)
    expect(await catalogue()).toBe(startingCatalogue)
  })

  it('of the jobs says by being saved that somebody has looked at it', async () => {
    done(await change('job', 'tank-reseal', {}))
    const { entry, state } = await shown('job', 'tank-reseal')
    const { source: _, ...first } = startingCatalogue.jobs.find(({ key }) => key === 'tank-reseal')!
    expect(entry).toEqual({ ...first, source: { kind: 'shop', says: 'set by this shop' } })
    expect(state).toBe('changed')
  })

  it.each([
    ['check', 'battery-rest-volts', { minutes: '7' }, { minutes: 7 }],
    ['check', 'battery-rest-volts', { staleAfterDays: '' }, {}],
    ['check', 'battery-rest-volts', { 'limit.min': '12,7' }, { limit: { min: 12.7 } }],
    [
      'fault',
      'fuel-smell',
      { 'hidden.kept': '1', 'hidden.average': '2', 'hidden.neglected': '3.5' },
      { hidden: { kept: 0.01, average: 0.02, neglected: 0.035 } },
    ],
    [
      'job',
      'tank-reseal',
      { 'outsideWork.likely': '20', 'outsideWork.low': '20', 'outsideWork.high': '20' },
      { outsideWork: 2000 },
    ],
    ['operation', 'tank-off', { 'hours.low': '', 'hours.likely': '0.4', 'hours.high': '' }, { hours: 0.4 }],
  ] as const)('can be set: a %s, %s, %j', async (kind, key, over, expected) => {
    const before = await shown(kind, key)
    done(await change(kind, key, over as unknown as Typed))
    const table: readonly { key: string }[] = (await catalogue())[tables[kind]]
    expect(table.find((one) => one.key === key)).toMatchObject(expected)
    const after = await shown(kind, key)
    expect(after.state).toBe('changed')
    expect(after.version).toBe(before.version + 1)
    const untouched = startingCatalogue[tables[kind]].filter((one) => one.key !== key)
    expect(table.filter((one) => one.key !== key)).toEqual(untouched)
    expect(table.map((one) => one.key)).toEqual(startingCatalogue[tables[kind]].map((one) => one.key))
  })

  it('can have its jobs put in another order and its causes shared out anew', async () => {
    const fault = startingCatalogue.faults.find(({ jobs }) => jobs.length === 2)!
    const [first, second] = fault.jobs
    done(await change('fault', fault.key, { 'jobs.0': second!, 'jobs.1': first! }))
    expect((await catalogue()).faults.find(({ key }) => key === fault.key)?.jobs).toEqual([second, first])
    const several = startingCatalogue.faults.find(({ causes = [] }) => causes.length > 1)!
    const shares = Object.fromEntries(
      several.causes!.map((_, index) => [`causes.${index}.share`, index === 0 ? '100' : '0']),
    )
    done(await change('fault', several.key, shares))
    const now = (await catalogue()).faults.find(({ key }) => key === several.key)
    expect(now?.causes?.map(({ share }) => share)).toEqual(
      several.causes!.map((_, index) => (index === 0 ? 1 : 0)),
    )
    expect(refused(await change('fault', several.key, { 'causes.0.share': '90' })).fields).toEqual({
      'causes.0.share': 'The shares add up to 90 %. They must add up to 100 %.',
    })
  })

  it('keeps a general limit general, so that what is entered for a model goes before it', async () => {
    done(await change('check', 'battery-rest-volts', { 'limit.min': '12.7' }))
    const check = (await catalogue()).checks.find(({ key }) => key === 'battery-rest-volts')
    expect(check?.sort === 'measured' && check.limit?.source.kind).toBe('common practice')
    done(await change('check', 'battery-rest-volts', { 'limit.min': '12.6' }))
    expect((await shown('check', 'battery-rest-volts')).state).toBe('starting')
  })

  it('is refused from a version that is no longer the stored one, with what is stored now', async () => {
    const old = await sent('operation', 'tank-off', { 'hours.likely': '0.35' })
    done(await change('operation', 'tank-off', { 'hours.likely': '0.5' }))
    const refusal = refused(await changeEntry(old, shop.manager))
    expect(refusal).toMatchObject({ kind: 'stale', theirs: { version: '1', 'hours.likely': '0.5' } })
    done(await changeEntry({ ...old, version: '1' }, shop.manager))
    expect((await shown('operation', 'tank-off')).typed['hours.likely']).toBe('0.35')
  })

  it.each([
    ['check', 'battery-rest-volts', { minutes: 'ten' }, ['minutes']],
    ['check', 'battery-rest-volts', { minutes: '' }, ['minutes']],
    ['check', 'battery-rest-volts', { title: '' }, ['title']],
    ['check', 'battery-rest-volts', { how: ' \n ' }, ['how']],
    ['check', 'battery-rest-volts', { staleAfterDays: '1.5' }, ['staleAfterDays']],
    ['check', 'battery-rest-volts', { 'limit.min': '900' }, ['limit.min']],
    ['check', 'battery-rest-volts', { 'limit.min': '13', 'limit.max': '12' }, ['limit.max']],
    ['check', 'battery-rest-volts', { 'plausible.min': '20', 'plausible.max': '3' }, ['plausible.max']],
    ['check', 'battery-rest-volts', { 'raises.7.when': 'outside' }, ['raises.7.effect']],
    ['check', 'battery-rest-volts', { 'raises.7.effect': 'fault:fuel-smell' }, ['raises.7.when']],
    [
      'check',
      'battery-rest-volts',
      { 'raises.7.when': 'outside', 'raises.7.effect': 'fault:no-such' },
      ['raises.7.effect'],
    ],
    [
      'check',
      'battery-rest-volts',
      { 'raises.7.when': 'answer:wet', 'raises.7.effect': 'fault:fuel-smell' },
      ['raises.7.effect'],
    ],
    ['check', 'battery-rest-volts', { short: 'nowhere' }, ['short']],
    ['check', 'fuel-leaks', { 'answers.0.label': '' }, ['answers.0.label']],
    ['fault', 'fuel-smell', { 'jobs.0': 'no-such-job' }, ['jobs.0']],
    [
      'fault',
      'fuel-smell',
      Object.fromEntries([0, 1, 2, 3, 4, 5].map((place) => [`jobs.${place}`, ''])),
      ['jobs.0'],
    ],
    [
      'fault',
      'fuel-smell',
      { 'hidden.kept': '50', 'hidden.average': '2', 'hidden.neglected': '3' },
      ['hidden.kept'],
    ],
    [
      'fault',
      'fuel-smell',
      { 'hidden.kept': '5', 'hidden.average': '', 'hidden.neglected': '' },
      ['hidden.average', 'hidden.neglected'],
    ],
    ['fault', 'fuel-smell', { saleOff: 'lots' }, ['saleOff']],
    ['fault', 'fuel-smell', { call: 'stop' }, ['clearedBy', 'locks']],
    ['fault', 'fuel-smell', { call: '' }, ['call']],
    ['job', 'tank-reseal', { 'operations.0': 'no-such' }, ['operations.0']],
    ['operation', 'seat-off', { 'needs.0': 'tank-off' }, ['']],
    ['operation', 'seat-off', { 'hours.likely': '-1' }, ['hours.likely']],
    ['operation', 'tank-off', { title: 'Seat off' }, ['title']],
  ] as const)('is refused as a %s, %s, with %j, at the field', async (kind, key, over, fields) => {
    const refusal = refused(await change(kind, key, over as unknown as Typed))
    expect(refusal.kind).toBe('malformed')
    const at = Object.keys(refusal.fields).sort()
    // A circle of operations is told at each that is in it; the form that closed it is one of them.
    if (kind === 'operation' && 'needs.0' in over) expect(at).toContain('needs.0')
    else expect(at).toEqual([...fields].sort())
    expect(await shop.store.db.catalogueChange.count()).toBe(0)
  })

  it('is nobody but a manager’s to set', async () => {
    const form = await sent('operation', 'tank-off', { 'hours.likely': '0.5' })
    for (const one of [changeEntry, takeEntryOut, takeEntryUp, entryBackToStart]) {
      expect(refused(await one(form, shop.dealer)).kind).toBe('not-allowed')
      expect(refused(await one(form, shop.technician)).kind).toBe('not-allowed')
      expect(refused(await one(form, shop.nobody)).kind).toBe('not-signed-in')
    }
    expect(refused(await addEntry({ kind: 'operation' }, shop.dealer)).kind).toBe('not-allowed')
  })
})

describe('what could hurt somebody', () => {
  const guarded = 'front-brake-no-pressure'
  it.each([
    [{ call: 'must' }, 'call'],
    [{ clearedBy: 'reason' }, 'clearedBy'],
    [{ 'locks[]': '' }, 'locks'],
    [{ 'rechecks.0': 'horn', 'rechecks.1': '', 'rechecks.2': '' }, 'rechecks.0'],
  ] as [Typed, string][])('is not made weaker: %j', async (over, field) => {
    const { fields } = refused(await change('fault', guarded, over))
    expect(Object.keys(fields)).toContain(field)
    expect((await shown('fault', guarded)).state).toBe('starting')
  })

  it('may be shut more widely', async () => {
    done(await change('fault', guarded, { 'locks[]': 'engine\nroad' }))
    expect((await catalogue()).faults.find(({ key }) => key === guarded)?.locks?.toSorted()).toEqual([
      'engine',
      'road',
    ])
  })

  it('goes on being raised by what raised it at first', async () => {
    const { typed } = await shown('check', 'fuel-leaks')
    const row = Object.keys(typed).find((name) => typed[name] === 'fault:fuel-leak')!
    const { fields } = refused(await change('check', 'fuel-leaks', { [row]: 'fault:fuel-smell' }))
    expect(Object.values(fields).join()).toContain('Somebody could be hurt')
  })

  it('stays in use, and so does what raises it', async () => {
    for (const [kind, key] of [
      ['fault', guarded],
      ['check', 'fuel-leaks'],
      // Nothing is raised by it, and a round opens on it.
      ['check', 'extinguisher'],
    ] as const)
      expect(refused(await takeEntryOut({ kind, key, version: 0 }, shop.manager)).kind).toBe('rule')
  })
})

const newLook: Typed = {
  title: 'Alarm siren',
  round: 'cold',
  how: 'Set the alarm off.\nListen.',
  needs: 'key',
  minutes: '0.5',
  'answers.0.label': 'Sounds',
  'answers.0.tone': 'good',
  'answers.1.label': 'Silent',
  'answers.1.tone': 'bad',
  'answers.1.effect': 'fault:fuel-smell',
  'answers.2.label': '',
}

describe('an entry of the shop’s own', () => {
  const add = (kind: Kind, typed: Typed, more: object = {}) =>
    addEntry({ kind, ...more, ...nested(typed) }, shop.manager)

  it('is a look with its answers, behind the checks of its round', async () => {
    const { key } = done(await add('check', newLook, { sort: 'look' }))
    expect(key).toBe('own-alarm-siren')
    const { checks } = await catalogue()
    const at = checks.findIndex((check) => check.key === key)
    expect(checks[at]).toMatchObject({
      sort: 'look',
      round: 'cold',
      answers: [
        { key: 'sounds', tone: 'good' },
        { key: 'silent', tone: 'bad' },
      ],
      raises: [{ when: { on: 'answer', answer: 'silent' }, fault: 'fuel-smell' }],
    })
    expect(checks[at - 1]?.round).toBe('cold')
    expect(checks[at + 1]?.round).toBe('stand')
    expect((await shown('check', key)).state).toBe('own')
  })

  it.each([
    [
      'measured',
      {
        instrument: 'multimeter',
        judgedOn: 'lowest',
        position: 'At the plug',
        'plausible.min': '0',
        'plausible.max': '20',
        'limit.min': '11',
        'raises.0.when': 'below-limit',
        'raises.0.effect': 'fault:fuel-smell',
      },
      { unit: 'V', limit: { min: 11 }, raises: [{ when: { on: 'below-limit' }, fault: 'fuel-smell' }] },
    ],
    [
      'number',
      {
        unitWord: 'keys',
        'plausible.min': '-1',
        'plausible.max': '9',
        'raises.0.when': 'under',
        'raises.0.than': '2',
        'raises.0.effect': 'fault:fuel-smell',
      },
      { unitWord: 'keys', raises: [{ when: { on: 'under', than: 2 }, fault: 'fuel-smell' }] },
    ],
    [
      'code',
      { overYears: '4', 'raises.0.when': 'outside', 'raises.0.effect': 'fault:fuel-smell' },
      { code: 'done-on', overYears: 4 },
    ],
  ] as [string, Typed, object][])('is a check of the sort %s', async (sort, typed, expected) => {
    const { title, round, how, needs, minutes } = newLook as Record<string, string>
    const common = { title: title!, round: round!, how: how!, needs: needs!, minutes: minutes! }
    const { key } = done(await add('check', { ...common, ...typed }, { sort }))
    expect((await catalogue()).checks.find((check) => check.key === key)).toMatchObject({ sort, ...expected })
    done(await change('check', key, { minutes: '2' }))
    expect((await catalogue()).checks.find((check) => check.key === key)).toMatchObject({
      minutes: 2,
      ...expected,
    })
  })

  it('is an operation, a job that needs it, a fault that the job cures, and a check that raises the fault', async () => {
    const operation = done(
      await add('operation', { title: 'Screen off', 'hours.likely': '0.2', fasteners: 'yes' }),
    )
    const job = done(
      await add('job', {
        ...{ title: 'Screen renewed', 'hours.likely': '0.3', 'outsideWork.likely': '0' },
        ...{
          'operations.0': operation.key,
          'parts.0.name': 'Screen',
          'parts.0.qty': '1',
          'parts.0.unitCost.likely': '60',
        },
      }),
    )
    const fault = done(
      await add('fault', {
        ...{
          title: 'Screen scratched',
          means: 'One cannot see through it well.',
          call: 'pays',
          saleOff: '40',
        },
        ...{
          'jobs.0': job.key,
          'rechecks.0': 'horn',
          'hidden.kept': '1',
          'hidden.average': '2',
          'hidden.neglected': '3',
        },
      }),
    )
    const check = done(
      await add(
        'check',
        { ...newLook, title: 'Screen', 'answers.1.effect': `fault:${fault.key}` },
        { sort: 'look' },
      ),
    )
    const { problems, kinds } = await readCatalogueOverview(shop.store.db)
    expect(problems).toEqual([])
    expect(kinds.map(({ own }) => own)).toEqual([1, 1, 1, 1])

    const out = async (kind: Kind, key: string) =>
      takeEntryOut({ kind, key, version: (await shown(kind, key)).version }, shop.manager)
    expect(refused(await out('job', job.key)).message).toContain('the fault "Screen scratched"')
    expect(refused(await out('operation', operation.key)).message).toContain('the job "Screen renewed"')
    expect(refused(await out('fault', fault.key)).message).toContain('the check "Screen"')
    for (const [kind, key] of [
      ['check', check.key],
      ['fault', fault.key],
      ['job', job.key],
      ['operation', operation.key],
    ] as const)
      done(await out(kind, key))
    expect(await catalogue()).toEqual(startingCatalogue)
    const { version } = await shown('check', check.key)
    expect(
      refused(await takeEntryUp({ kind: 'check', key: check.key, version }, shop.manager)).message,
    ).not.toBe('')
    for (const [kind, key] of [
      ['operation', operation.key],
      ['job', job.key],
      ['fault', fault.key],
      ['check', check.key],
    ] as const)
      done(await takeEntryUp({ kind, key, version: (await shown(kind, key)).version }, shop.manager))
    expect((await catalogue()).checks.some(({ key }) => key === check.key)).toBe(true)
  })

  it.each([
    ['without a title', { title: '' }, ['title']],
    ['without a round', { round: '' }, ['round']],
    ['with a bad answer that does nothing', { 'answers.1.effect': '' }, ['answers.1.label']],
    ['with one answer', { 'answers.1.label': '', 'answers.1.effect': '' }, ['answers.0.label']],
    ['with the title of another', { title: 'Fuel smell and leaks' }, ['title']],
  ] as [string, Typed, string[]][])('is refused %s', async (_what, over, fields) => {
    const refusal = refused(await add('check', { ...newLook, ...over }, { sort: 'look' }))
    expect(Object.keys(refusal.fields)).toEqual(fields)
  })

  it('is there once where it was sent twice, and has no starting values to go back to', async () => {
    const { key } = done(await add('check', newLook, { sort: 'look' }))
    expect(Object.keys(refused(await add('check', newLook, { sort: 'look' })).fields)).toEqual(['title'])
    expect(refused(await entryBackToStart({ kind: 'check', key, version: 1 }, shop.manager)).kind).toBe(
      'rule',
    )
  })

  it('never has the key of a starting entry, now or after an upgrade', () => {
    for (const kind of entryKinds)
      expect(startingCatalogue[tables[kind]].filter(({ key }) => isOwn(key))).toEqual([])
  })
})

describe('the history of an entry', () => {
  it('tells every change with who, when, and what from and to, and goes back to the start', async () => {
    done(await change('operation', 'tank-off', { 'hours.likely': '0.5' }))
    const { version } = await shown('operation', 'tank-off')
    const later = shop.at(shop.manager, '2026-11-26T09:00:00Z')
    done(await entryBackToStart({ kind: 'operation', key: 'tank-off', version }, later))
    const { history, state, typed, starting, setBy } = await shown('operation', 'tank-off')
    expect(state).toBe('starting')
    expect(typed).toEqual(starting)
    expect(history).toEqual([
      {
        ...{
          seq: expect.any(Number),
          at: new Date('2026-11-26T09:00:00Z'),
          by: 'Mara',
          done: 'back to starting values',
        },
        fields: [{ field: 'hours.likely', from: '0.5', to: '0.3' }],
      },
      {
        ...{ seq: expect.any(Number), at: new Date('2026-11-25T12:00:00Z'), by: 'Mara', done: 'changed' },
        fields: [{ field: 'hours.likely', from: '0.3', to: '0.5' }],
      },
    ])
    expect(setBy.hours).toMatchObject({ by: 'Mara' })
    expect(
      refused(await entryBackToStart({ kind: 'operation', key: 'tank-off', version: 1 }, shop.manager)).kind,
    ).toBe('stale')
  })

  it('holds what was told of a job before events said what was there before', async () => {
    const body = { job: 'tank-reseal', hours: 3, outsideWork: 0, parts: [] }
    await shop.store.transaction((tx) =>
      appendEvent(tx, {
        ...{ at: testNow, personId: null, deviceId: null, verb: 'catalogue:change', bikeId: null, body },
      }),
    )
    const { history } = await shown('job', 'tank-reseal')
    expect(history[0]?.fields).toContainEqual({ field: 'hours.likely', from: '', to: '3' })
    expect((await shown('job', 'tank-repaint')).history).toEqual([])
  })

  it('is found by words, whatever is out of use', async () => {
    const { entries } = await readCatalogueList(shop.store.db, { kind: 'operation', search: 'TANK off' })
    expect(entries.map(({ key }) => key)).toEqual(['tank-off'])
    expect((await readCatalogueList(shop.store.db, { kind: 'check', search: 'zzz' })).entries).toEqual([])
  })
})
