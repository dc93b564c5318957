import { uuidv7 } from 'uuidv7'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { checkChain } from '../../lib/data/events'
import { readToWorkOut } from '../../lib/shop/facts'
import { correctMinutes, finishJob, giveUpJob, goOnWithJob, startJob } from '../../lib/shop/job-runs'
import { answerQuestion, askManager } from '../../lib/shop/questions'
import { readBench } from '../../lib/shop/read-bench'
import { readOpenQuestions, readUnderWay } from '../../lib/shop/read-questions'
import { begin, onTheBench, started } from '../support/on-the-bench'
import { done, type OpenShop, openTestShop, refused } from '../support/open-shop'
import { answer } from '../support/readings'
import { workOutBike } from '../support/work-out'

let shop: OpenShop
let bike: string
let viewingNo: number
let run: string
beforeEach(async () => {
  shop = await openTestShop()
  ;({ bike, viewingNo } = await onTheBench(shop))
  await answer(shop.technician, { bike, answers: [['tank-inside', 'flakes']] })
  run = await begin(shop, { bike, job: 'tank-reseal', budgetHours: '2', opens: ['fuel-off'] })
})
afterEach(() => shop.dispose())

const asked = (over: object = {}) => ({
  question: uuidv7(),
  bike,
  run,
  asks: 'The tap thread is gone. Weld it or find a tank?',
  moreHours: '3',
  undone: 'Tank off, fuel lines open',
  keptWhere: 'Box 4, shelf by the lift',
  ...over,
})
const ask = (over: object = {}, who = shop.technician) =>
  askManager(asked(over), shop.at(who, '2026-11-25T13:00:00Z'))
const answered = (question: string, over: object = {}) => ({
  question,
  version: 1,
  answer: 'go on',
  budgetHours: '6',
  note: 'Weld it',
  ...over,
})
const stage = async () => (await shop.store.db.bike.findUniqueOrThrow({ where: { id: bike } })).stage
const stored = () => shop.store.db.jobRun.findUniqueOrThrow({ where: { id: run }, include: { spells: true } })

describe('a question from the bench', () => {
  test('stops the clock of everybody, moves the bike, and keeps what is undone and where things are', async () => {
    done(await goOnWithJob({ run, version: 1 }, shop.dealer))
    const { question } = done(await ask())
    expect(await stage()).toBe('waiting for a decision')
    const { state, spells } = await stored()
    expect(state).toBe('paused')
    expect(spells.map(({ minutes }) => minutes)).toEqual([60, 60])
    const bench = await readBench({ ...shop.technician, who: shop.technician.who! }, String(viewingNo))
    expect(bench.questions).toMatchObject([
      {
        id: question,
        undone: 'Tank off, fuel lines open',
        keptWhere: 'Box 4, shelf by the lift',
        job: expect.stringContaining('Tank'),
        who: 'Tove',
        answered: null,
      },
    ])
    expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
  })

  test('lets nobody go on while it waits, and starts nothing else', async () => {
    done(await ask())
    expect(refused(await goOnWithJob({ run, version: 2 }, shop.technician)).message).toContain('waits')
    expect(refused(await startJob(started(bike), shop.dealer)).message).toContain('waits')
    expect(refused(await ask()).message).toContain('already')
  })

  test('shows the manager what is still to be spent and the margin, before and after', async () => {
    done(await ask())
    const [open] = await readOpenQuestions(shop.store.db)
    const { figures } = open!
    // Three hours at 52 an hour; stuck fasteners and hours that run over make it rather more than less.
    const more = figures!.stillToSpendAfter - figures!.stillToSpendBefore
    expect(more).toBeGreaterThan(2.5 * 5200)
    expect(more).toBeLessThan(6 * 5200)
    expect(figures!.marginAfter!).toBeLessThan(figures!.marginBefore!)
    expect(open?.bike).toMatchObject({ viewingNo, stage: 'waiting for a decision' })
  })

  test('without hours or a sale price changes no figure and claims no margin', async () => {
    const other = await onTheBench(shop, { saleLow: '', saleLikely: '', saleHigh: '' })
    done(await ask({ bike: other.bike, run: undefined, moreHours: '' }))
    const [open] = await readOpenQuestions(shop.store.db, { bikeId: other.bike })
    expect(open?.figures).toMatchObject({ marginBefore: null, marginAfter: null })
    expect(open?.figures?.stillToSpendAfter).toBe(open?.figures?.stillToSpendBefore)
  })

  test('is asked once, of work that is under way on that bike, by somebody signed in', async () => {
    const other = await onTheBench(shop)
    expect(refused(await ask({ bike: other.bike })).message).toContain('not under way')
    expect(refused(await ask({ run: uuidv7() })).message).toContain('not under way')
    expect(refused(await ask({}, shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await ask({ bike: uuidv7() })).kind).toBe('not-found')
    expect(refused(await ask({ asks: ' ' })).fields).toHaveProperty('asks')
    expect(refused(await ask({ moreHours: 'a lot' })).fields).toHaveProperty('moreHours')
    expect(await shop.store.db.question.count()).toBe(0)
    const twice = asked()
    done(await askManager(twice, shop.technician))
    expect(refused(await askManager(twice, shop.technician)).kind).toBe('rule')
    expect(await shop.store.db.question.count()).toBe(1)
  })

  test.each(['viewing', 'bought', 'ready', 'sold'])('is refused of a bike at the stage %s', async (at) => {
    await shop.store.db.bike.update({ where: { id: bike }, data: { stage: at } })
    expect(refused(await ask()).kind).toBe('rule')
    expect(await stage()).toBe(at)
  })
})

describe('the answer', () => {
  test('goes back to the bench without prices, with the new budget, and the bike goes back with it', async () => {
    const { question } = done(await ask())
    done(await answerQuestion(answered(question), shop.manager))
    expect(await stage()).toBe('on the bench')
    expect(await stored()).toMatchObject({ budgetHours: 6, state: 'paused' })
    const bench = await readBench({ ...shop.technician, who: shop.technician.who! }, String(viewingNo))
    expect(bench.questions[0]?.answered).toMatchObject({
      answer: 'go on',
      budgetHours: 6,
      note: 'Weld it',
      who: 'Mara',
    })
    expect(JSON.stringify(bench)).not.toMatch(/minor|margin|price|cost|spend/i)
    expect(await readOpenQuestions(shop.store.db)).toEqual([])
    done(await goOnWithJob({ run, version: 3 }, shop.technician))
  })

  test.each([
    ['stop', 'ends'],
    ['stop', 'stays paused'],
    ['leave it', null],
  ])('%s leaves the budget as it was (the work: %s)', async (word, begun) => {
    const { question } = done(await ask())
    done(await answerQuestion(answered(question, { answer: word, begun }), shop.manager))
    expect(await stored()).toMatchObject({ budgetHours: 2 })
    expect(await stage()).toBe('on the bench')
  })

  describe('to stop', () => {
    const stop = (question: string, over: object = {}) =>
      answerQuestion(
        answered(question, { answer: 'stop', budgetHours: '', note: 'Close it up', ...over }),
        shop.at(shop.manager, '2026-11-25T14:00:00Z'),
      )
    const bench = () => readBench({ ...shop.technician, who: shop.technician.who! }, String(viewingNo))

    test('says what becomes of the work that is begun', async () => {
      const { question } = done(await ask())
      expect(refused(await stop(question)).fields).toEqual({
        begun: 'Choose what becomes of the work that is begun.',
      })
      expect(refused(await stop(question, { begun: 'vanishes' })).fields).toHaveProperty('begun')
      expect(await stage()).toBe('waiting for a decision')
      expect((await shop.store.db.question.findFirstOrThrow()).answer).toBeNull()
    })

    test('ends it where that is said: its minutes stay, it cures nothing, and what it left open stays locked', async () => {
      const { question } = done(await ask())
      done(await stop(question, { begun: 'ends' }))
      expect(await stored()).toMatchObject({
        state: 'stopped',
        endedBy: shop.manager.who!.personId,
        endedAt: new Date('2026-11-25T14:00:00Z'),
        version: 3,
        spells: [{ minutes: 60 }],
      })
      expect(refused(await goOnWithJob({ run, version: 3 }, shop.technician)).message).toBe(
        'This work is finished.',
      )
      const seen = await bench()
      expect(seen.underWay).toEqual([])
      expect(seen.openStates).toMatchObject([{ kind: 'fuel-off', job: expect.stringContaining('Tank') }])
      expect(seen.ended).toMatchObject([{ outcome: { is: 'stopped' }, minutes: 60, open: ['fuel-off'] }])
      expect(seen.questions[0]).toMatchObject({
        jobUnderWay: false,
        answered: { answer: 'stop', jobEnds: true },
      })
      const asOf = { bikeId: bike, now: shop.manager.now }
      // What was read of the part before it was opened is asked anew.
      expect((await readToWorkOut(shop.store.db, asOf)).input.work).toMatchObject({
        finished: [],
        givenUp: [{ job: 'tank-reseal', at: '2026-11-25T14:00:00.000Z' }],
      })
      const { result } = await workOutBike(shop.store.db, asOf)
      expect(result.faults.find(({ fault }) => fault === 'tank-rust')).toMatchObject({
        state: 'found',
        awaitsRecheck: null,
      })
      expect(result.locks.find(({ round }) => round === 'running')).toMatchObject({
        open: false,
        states: [{ kind: 'fuel-off' }],
      })
      expect(await checkChain(shop.store.db)).toMatchObject({ ok: true })
    })

    test('asks to be asked before it is begun again, and its minutes may still be set right', async () => {
      const { question } = done(await ask())
      done(await stop(question, { begun: 'ends' }))
      const jobOf = async () => (await bench()).toDo.find(({ key }) => key === 'tank-reseal')
      expect((await jobOf())?.stoppedAt).toBe('2026-11-25T14:00:00.000Z')
      const right = { run, version: 3, minutes: '45', note: 'Went for the post' }
      done(await correctMinutes(right, shop.technician))
      const again = done(await startJob(started(bike, { job: 'tank-reseal' }), shop.technician))
      done(await giveUpJob({ run: again.run, version: 1, note: 'No sealer' }, shop.technician))
      expect((await jobOf())?.stoppedAt).toBeNull()
    })

    test('keeps it paused where that is said, to be gone on with another day', async () => {
      const { question } = done(await ask())
      done(await stop(question, { begun: 'stays paused' }))
      expect(await stored()).toMatchObject({ state: 'paused', endedAt: null })
      expect((await bench()).questions[0]?.answered).toMatchObject({ answer: 'stop', jobEnds: false })
      done(await goOnWithJob({ run, version: 2 }, shop.technician))
    })

    test('asks nothing of work that was finished meanwhile, or where no work was named', async () => {
      const { question } = done(await ask())
      done(await finishJob({ run, version: 2 }, shop.technician))
      done(await stop(question))
      expect(await stored()).toMatchObject({ state: 'done' })
      const other = done(await ask({ run: undefined }))
      done(await stop(other.question, { begun: 'ends' }))
      expect(await stored()).toMatchObject({ state: 'done' })
    })

    test('ends no work where the answer is another', async () => {
      const { question } = done(await ask())
      done(await answerQuestion(answered(question, { begun: 'ends' }), shop.manager))
      expect(await stored()).toMatchObject({ state: 'paused' })
    })
  })

  test('changes no budget of work that was finished meanwhile', async () => {
    const { question } = done(await ask())
    done(await finishJob({ run, version: 2 }, shop.technician))
    done(await answerQuestion(answered(question), shop.manager))
    expect(await stored()).toMatchObject({ budgetHours: 2, state: 'done' })
  })

  test('is a manager’s, once, from what is stored now', async () => {
    const { question } = done(await ask())
    expect(refused(await answerQuestion(answered(question), shop.technician)).kind).toBe('not-allowed')
    expect(refused(await answerQuestion(answered(question), shop.dealer)).kind).toBe('not-allowed')
    expect(refused(await answerQuestion(answered(question), shop.nobody)).kind).toBe('not-signed-in')
    expect(refused(await answerQuestion(answered(uuidv7()), shop.manager)).kind).toBe('not-found')
    expect(refused(await answerQuestion(answered(question, { version: 4 }), shop.manager)).kind).toBe('stale')
    expect(
      refused(await answerQuestion(answered(question, { answer: 'maybe' }), shop.manager)).fields,
    ).toHaveProperty('answer')
    expect(await stage()).toBe('waiting for a decision')
    done(await answerQuestion(answered(question), shop.manager))
    expect(refused(await answerQuestion(answered(question, { version: 2 }), shop.manager)).message).toContain(
      'already',
    )
  })
})

test('what is under way on all bikes stands in one list, without money', async () => {
  const under = await readUnderWay(shop.store, new Date('2026-11-25T12:35:00Z'))
  expect(under).toMatchObject([
    { id: run, minutes: 35, budgetHours: 2, atIt: ['Tove'], paused: false, bike: { viewingNo } },
  ])
  done(await ask())
  expect(await readUnderWay(shop.store, shop.manager.now)).toMatchObject([{ paused: true, atIt: [] }])
})
