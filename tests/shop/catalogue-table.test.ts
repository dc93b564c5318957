import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type EntryKind, entryKinds } from '../../lib/core/checks/catalogue-problems'
import { deal } from '../../lib/core/deal/deal'
import { dealInput } from '../../lib/core/deal/deal.input'
import { mergeCatalogue, readCatalogue } from '../../lib/shop/catalogue'
import { catalogueCsv, columnsOf } from '../../lib/shop/catalogue-csv'
import { nested } from '../../lib/shop/catalogue-typed'
import { addEntry, changeEntry, takeEntryOut } from '../../lib/shop/change-catalogue'
import { changeJob } from '../../lib/shop/change-job'
import { readCsv, writeCsv } from '../../lib/shop/csv'
import { readBoardRows } from '../../lib/shop/derived'
import { importCatalogue, type TableTrial } from '../../lib/shop/import-catalogue'
import { makeOffer } from '../../lib/shop/make-offer'
import { readCatalogueEntry, readCatalogueOverview } from '../../lib/shop/read-catalogue'
import { done, type OpenShop, openTestShop, refused, testNow } from '../support/open-shop'
import { answer, takenIn } from '../support/readings'

let shop: OpenShop
beforeEach(async () => {
  shop = await openTestShop()
})
afterEach(() => shop.dispose())

const csv = async (kind: EntryKind) => catalogueCsv(await readCatalogue(shop.store.db), kind)
const take = (kind: EntryKind, table: string, seen = '') =>
  importCatalogue({ kind, table, seen }, shop.manager)
const shown = (kind: EntryKind, key: string) => readCatalogueEntry(shop.store.db, { kind, key })

/** The table with some cells of the line of a key set otherwise; without cells the line is taken out. */
async function tableWith(kind: EntryKind, key: string, cells: Record<string, string>) {
  const columns = columnsOf(kind)
  const lines = readCsv(await csv(kind), { columns, field: 'table' })
  const found = lines.find((line) => line.cells.key === key)!
  return writeCsv(
    columns,
    lines.map(
      (line) => (line === found ? { ...line.cells, ...cells } : line.cells) as Record<string, string>,
    ),
  )
}

async function applied(kind: EntryKind, table: string): Promise<TableTrial> {
  const trial = done(await take(kind, table))
  return done(await take(kind, trial.table, trial.seen))
}

describe('a table of the catalogue', () => {
  it.each(entryKinds)('changes nothing where it is taken in as it was given out: %s', async (kind) => {
    const trial = done(await take(kind, await csv(kind)))
    expect(trial.lines.filter(({ is }) => is !== 'same')).toEqual([])
    expect(trial.counts.same).toBeGreaterThan(10)
    expect(trial).toMatchObject({ seen: '', applied: false })
    expect(await shop.store.db.catalogueChange.count()).toBe(0)
  })

  it('changes nothing either where an office program wrote it anew: semicolons, decimal commas, no mark', async () => {
    const text = (await csv('operation')).replace(/^\uFEFF/, '')
    const lines = readCsv(text, { columns: columnsOf('operation'), field: 'table' })
    const rewritten = [columnsOf('operation'), ...lines.map(({ cells }) => Object.values(cells))]
      .map((cells) => cells.map((cell) => `"${cell.replace(/^(\d+)\.(\d+)$/, '$1,$20')}"`).join(';'))
      .join('\n')
    expect(done(await take('operation', rewritten)).counts).toMatchObject({ changed: 0, new: 0, refused: 0 })
  })

  it('tells first what would change, from and to, and changes it only when it is sent again', async () => {
    const table = await tableWith('check', 'battery-rest-volts', { minutes: '7', 'sale at least': '12.7' })
    const trial = done(await take('check', table))
    expect(trial.counts).toMatchObject({ changed: 1, new: 0, refused: 0 })
    const [line] = trial.lines.filter(({ is }) => is === 'changed')
    expect(line?.changes).toContainEqual({ column: 'minutes', from: '2', to: '7' })
    expect(await shop.store.db.catalogueChange.count()).toBe(0)
    const after = done(await take('check', trial.table, trial.seen))
    expect(after.applied).toBe(true)
    const check = (await readCatalogue(shop.store.db)).checks.find(({ key }) => key === 'battery-rest-volts')
    expect(check).toMatchObject({ minutes: 7, saleLine: { min: 12.7, source: { kind: 'shop' } } })
    const { history } = await shown('check', 'battery-rest-volts')
    expect(history[0]?.fields).toContainEqual({ field: 'minutes', from: '2', to: '7' })
    expect(await shop.store.db.event.count({ where: { verb: 'catalogue:change' } })).toBe(1)
  })

  it.each([
    [
      'fault',
      'fuel-smell',
      { 'hidden, well kept %': '1', 'hidden, average %': '2', 'hidden, neglected %': '3' },
    ],
    ['job', 'tank-reseal', { 'hours low': '1', 'hours likely': '2', 'hours high': '3' }],
    ['operation', 'tank-off', { 'hours low': '0.1', 'hours likely': '0.2', 'hours high': '0.3' }],
  ] as const)('sets the figures of a %s', async (kind, key, cells) => {
    await applied(kind, await tableWith(kind, key, cells))
    expect((await shown(kind, key)).state).toBe('changed')
    expect(done(await take(kind, await csv(kind))).counts.same).toBeGreaterThan(10)
  })

  it('sets the price of a part, adds one and takes one away, and leaves a job whose parts it does not name', async () => {
    const columns = columnsOf('job')
    const rows = readCsv(await csv('job'), { columns, field: 'table' }).map(({ cells }) => cells)
    const own = rows.filter((cells) => cells.key === 'fuel-lines')
    expect(own.map((cells) => cells.part)).toEqual(['', 'Hose and clips', 'Filter'])
    const part = {
      ...own[1]!,
      part: 'Washer',
      'how many': '2',
      'price low': '1',
      'price likely': '1',
      'price high': '1',
    }
    const table = writeCsv(columns, [own[0]!, { ...own[1]!, 'price likely': '15' }, part] as Record<
      string,
      string
    >[])
    await applied('job', table)
    const jobs = async () => (await readCatalogue(shop.store.db)).jobs.find(({ key }) => key === 'fuel-lines')
    expect((await jobs())?.parts).toEqual([
      { name: 'Hose and clips', qty: 1, unitCost: { low: 800, likely: 1500, high: 2200 } },
      { name: 'Washer', qty: 2, unitCost: 100 },
    ])
    await applied(
      'job',
      writeCsv(columns, [{ ...own[0]!, 'hours likely': '0.6' }] as Record<string, string>[]),
    )
    expect((await jobs())?.parts).toHaveLength(2)
  })

  it('adds a new operation and a new job, where the key is left empty', async () => {
    const columns = columnsOf('operation')
    const fresh = {
      key: '',
      title: 'Sidecar mount off',
      'hours low': '',
      'hours likely': '0.5',
      'hours high': '',
    }
    const trial = await applied('operation', writeCsv(columns, [fresh]))
    expect(trial.counts).toEqual({ same: 0, changed: 0, new: 1, refused: 0 })
    expect((await readCatalogue(shop.store.db)).operations.at(-1)).toEqual({
      ...{ key: 'own-sidecar-mount-off', title: 'Sidecar mount off', hours: 0.5, fasteners: true },
    })
  })

  it.each([
    ['check', 'battery-rest-volts', { minutes: 'ten' }, 'minutes'],
    ['check', 'fuel-leaks', { 'at least': '3' }, 'at least'],
    ['check', 'battery-rest-volts', { 'at least': '99' }, 'at least'],
    ['fault', 'fuel-leak', { call: 'must' }, 'call'],
    ['fault', 'fuel-smell', { call: 'perhaps' }, 'call'],
    ['job', 'tank-reseal', { 'hours low': '9' }, 'hours low'],
    ['job', 'tank-reseal', { key: 'no-such-job' }, 'key'],
    ['check', 'fuel-leaks', { key: '' }, 'key'],
    ['operation', 'tank-off', { title: '' }, 'title'],
    ['operation', 'tank-off', { key: 'seat-off' }, 'key'],
  ] as [EntryKind, string, Record<string, string>, string][])(
    'is refused as a whole where one line of it is: a %s, %s, %j',
    async (kind, key, cells, column) => {
      const trial = done(await take(kind, await tableWith(kind, key, cells)))
      expect(trial.seen).toBe('')
      expect(trial.lines.flatMap(({ refusals }) => refusals.map((one) => one.column))).toContain(column)
      expect(refused(await take(kind, trial.table, 'x')).kind).toBe('stale')
      expect(await shop.store.db.catalogueChange.count()).toBe(0)
    },
  )

  it.each([
    ['nothing', ''],
    ['no columns', 'a,b\n1,2'],
    ['a quotation mark that never ends', 'key,title\n"x,y'],
  ])('is refused at its field where it holds %s', async (_what, table) => {
    expect(Object.keys(refused(await take('operation', table)).fields)).toEqual(['table'])
  })

  it('is refused where something changed since the trial, and where another table is sent', async () => {
    const table = await tableWith('operation', 'tank-off', { 'hours likely': '0.5' })
    const { seen } = done(await take('operation', table))
    const other = await tableWith('operation', 'tank-off', { 'hours likely': '0.55' })
    expect(refused(await take('operation', other, seen)).kind).toBe('stale')
    const { typed, version } = await shown('operation', 'seat-off')
    done(
      await changeEntry(
        { kind: 'operation', key: 'seat-off', version, ...nested({ ...typed, title: 'Saddle off' }) },
        shop.manager,
      ),
    )
    expect(refused(await take('operation', table, seen)).kind).toBe('stale')
    const again = done(await take('operation', table))
    done(await take('operation', table, again.seen))
    expect((await shown('operation', 'tank-off')).typed['hours.likely']).toBe('0.5')
    expect((await shown('operation', 'seat-off')).typed.title).toBe('Seat off')
  })

  it('is nobody but a manager’s to take in', async () => {
    const sent = { kind: 'operation', table: await csv('operation') }
    expect(refused(await importCatalogue(sent, shop.dealer)).kind).toBe('not-allowed')
    expect(refused(await importCatalogue(sent, shop.technician)).kind).toBe('not-allowed')
  })
})

describe('a change of the catalogue', () => {
  it('leaves an offer that was made before as it is, to be reckoned again from its own input', async () => {
    const { bike } = await takenIn(shop)
    await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
    const offered = { bike, version: 1, price: '900', validUntil: '2026-12-02' }
    done(await makeOffer(offered, shop.dealer))
    const [before] = await shop.store.db.offer.findMany()
    const cost = async () => (await readBoardRows(shop.store, testNow)).rows[0]!.costMean
    const costBefore = await cost()
    const three = (text: string) => ({ low: text, likely: text, high: text })
    const figures = { hours: three('20'), outsideWork: three('500'), parts: {} }
    for (const key of ['tank-reseal', 'tank-repaint'])
      done(await changeJob({ key, version: 0, ...figures }, shop.manager))
    expect(await cost()).not.toBe(costBefore)
    const [after] = await shop.store.db.offer.findMany()
    expect(after).toEqual(before)
    const again = deal(dealInput.parse(JSON.parse(after!.input)))
    expect(JSON.parse(JSON.stringify(again))).toEqual(JSON.parse(after!.output))
  })

  it.each([
    ['an operation', 'operation', 'tank-off', { 'hours.likely': '0.5' }],
    ['a check', 'check', 'battery-rest-volts', { 'limit.min': '12.9' }],
    [
      'a fault',
      'fault',
      'fuel-smell',
      { 'hidden.kept': '10', 'hidden.average': '20', 'hidden.neglected': '30' },
    ],
  ] as const)('to %s works every board row out anew', async (_what, kind, key, over) => {
    await takenIn(shop)
    const kept = async () => {
      await readBoardRows(shop.store, testNow)
      return (await shop.store.db.derived.findMany()).map(({ inputsHash }) => inputsHash)
    }
    const before = await kept()
    const { typed, version } = await shown(kind, key)
    done(await changeEntry({ kind, key, version, ...nested({ ...typed, ...over }) }, shop.manager))
    expect(await kept()).not.toEqual(before)
  })

  it('that takes a check out of use keeps its readings, and the bike is still worked out', async () => {
    const look = {
      ...{ title: 'Alarm siren', round: 'cold', how: 'Listen.', minutes: '1' },
      ...{ 'answers.0.label': 'Sounds', 'answers.0.tone': 'good' },
      ...{ 'answers.1.label': 'Silent', 'answers.1.tone': 'bad', 'answers.1.effect': 'fault:fuel-smell' },
    }
    const { key } = done(await addEntry({ kind: 'check', sort: 'look', ...nested(look) }, shop.manager))
    const { bike } = await takenIn(shop)
    await answer(shop.technician, { bike, answers: [[key, 'silent']] })
    const musts = async () => (await readBoardRows(shop.store, testNow)).rows[0]!.musts
    const before = await musts()
    done(await takeEntryOut({ kind: 'check', key, version: 1 }, shop.manager))
    expect(await musts()).toBe(before - 1)
    expect(await shop.store.db.reading.count({ where: { check: key } })).toBe(1)
  })
})

describe('the catalogue that pages read', () => {
  it('is made once for the same edits, and anew for others', async () => {
    const three = { low: '1', likely: '1', high: '1' }
    done(
      await changeJob(
        { key: 'tank-reseal', version: 0, hours: three, outsideWork: three, parts: {} },
        shop.manager,
      ),
    )
    const first = await readCatalogue(shop.store.db)
    expect(await readCatalogue(shop.store.db)).toBe(first)
    done(
      await changeJob(
        { key: 'tank-reseal', version: 1, hours: { ...three, high: '2' }, outsideWork: three, parts: {} },
        shop.manager,
      ),
    )
    expect(await readCatalogue(shop.store.db)).not.toBe(first)
  })

  it('passes over an edit of an entry that an upgrade took away', () => {
    const patches = [{ kind: 'job', key: 'gone-with-an-upgrade', patch: '{"title":"x"}' }]
    expect(mergeCatalogue(patches).jobs).toEqual(mergeCatalogue([]).jobs)
  })

  it('still works bikes out where an upgrade took away what an entry names, and the page tells it', async () => {
    const { bike } = await takenIn(shop)
    await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
    const set = (kind: EntryKind, key: string, patch: object) =>
      shop.store.db.catalogueChange.create({
        data: { id: uuidv7(), kind, key, patch: JSON.stringify(patch), personId: 'x', at: testNow },
      })
    await set('job', 'tank-reseal', { operations: ['gone'] })
    await set('operation', 'tank-off', { needs: ['gone'] })
    await set('fault', 'no-power', {
      causes: [
        { job: 'main-fuse', share: 0.5 },
        { job: 'gone', share: 0.5 },
      ],
    })
    await set('check', 'horn', { raises: [{ when: { on: 'answer', answer: 'silent' }, fault: 'gone' }] })
    const { rows } = await readBoardRows(shop.store, testNow)
    expect(rows[0]?.costMean).toBeGreaterThan(0)
    const { faults, jobs } = await readCatalogue(shop.store.db)
    expect(faults.find(({ key }) => key === 'no-power')?.jobs).toEqual(['main-fuse'])
    expect(jobs.find(({ key }) => key === 'tank-reseal')?.operations).toEqual([])
    const { problems } = await readCatalogueOverview(shop.store.db)
    expect(new Set(problems.map(({ key }) => key))).toEqual(
      new Set(['horn', 'no-power', 'tank-off', 'tank-reseal']),
    )
  })
})
