import { uuidv7 } from 'uuidv7'
import type { Catalogue } from '../../core/checks/catalogue'
import { addDays } from '../../core/quantity/days'
import { setBikeLimit } from '../../shop/bike-limit'
import { readCatalogue } from '../../shop/catalogue'
import { decide } from '../../shop/decide'
import type { Context } from '../../shop/deed'
import { dayIn } from '../../shop/instants'
import { makeOffer } from '../../shop/make-offer'
import { promiseDay } from '../../shop/plan-pins'
import { recordReading } from '../../shop/record-reading'
import { buyBike, passUp, putOnBench } from '../../shop/stages'
import { takeInBike } from '../../shop/take-in-bike'
import { tellMoney } from './money'
import { must } from './must'
import { clearForBuying, tellPapers } from './papers'
import { tellParts } from './parts'
import { soundExcept } from './sound-bike'
import type { Happening, Story, Taken } from './story'
import { tellWork } from './work'

export type Staff = Record<'technician' | 'dealer' | 'manager', Context>

export type Telling = {
  story: Story
  bike: string
  staff: Staff
  catalogue: Catalogue
  zone: string
  made: Date
}

const dayMs = 24 * 3600 * 1000

/** At which every reading is taken that counts only with the engine speed. */
const notedSpeedRpm = 5000

/** Tells one story through the same deeds as a person at a screen, each at its own day. */
export async function tell(story: Story, given: { staff: Staff; zone: string; made: Date }): Promise<void> {
  const { staff, zone, made } = given
  const bike = uuidv7()
  const seen = at(staff.dealer, made, story.seenDaysAgo)
  const { sale, kind, ...facts } = story.bike
  const [saleLow, saleLikely, saleHigh] = sale ?? ['', '', '']
  must(
    await takeInBike(
      {
        ...facts,
        id: bike,
        kind,
        year: facts.year ?? null,
        distanceUnit: facts.distanceUnit ?? 'mi',
        saleLow,
        saleLikely,
        saleHigh,
      },
      seen,
    ),
  )
  const catalogue = await readCatalogue(staff.dealer.store.db)
  for (const happening of story.happenings) {
    await happen(happening, { story, bike, staff, catalogue, zone, made })
  }
}

async function happen(happening: Happening, telling: Telling): Promise<void> {
  const { story, bike, staff, catalogue, zone, made } = telling
  const context = at(staff[happening.who], made, happening.daysAgo)
  const today = dayIn(zone, context.now)
  switch (happening.did) {
    case 'check': {
      const { rounds, short = false, except = [], found = [] } = happening
      const { kind, distance } = story.bike
      await record(
        soundExcept({ catalogue, kind, rounds, short, except, found, distance, today }),
        telling,
        context,
      )
      return
    }
    case 'record':
      return record(happening.taken, telling, context)
    case 'limit':
      for (const check of happening.checks) {
        const input = { id: uuidv7(), bike, check, source: 'stamped', ...happening.limit }
        must(await setBikeLimit({ ...blankLimit, ...input }, context))
      }
      return
    case 'decide':
      must(await decide({ bike, decision: { id: uuidv7(), ...happening.decision } }, context))
      return
    case 'offer': {
      const validUntil = addDays(today, happening.validDays)
      const version = await versionOf(telling)
      must(await makeOffer({ bike, version, price: happening.price, validUntil }, context))
      return
    }
    case 'buy':
      await clearForBuying({ story, bike, context, today })
      must(
        await buyBike(
          { bike, version: await versionOf(telling), price: happening.price, day: today },
          context,
        ),
      )
      return
    case 'bench':
      must(await putOnBench({ bike, version: await versionOf(telling) }, context))
      return
    case 'promise': {
      const { inDays, note } = happening
      must(await promiseDay({ bike, version: 0, day: addDays(today, inDays), note }, context))
      return
    }
    case 'pass up': {
      const { reason } = happening
      must(await passUp({ bike, version: await versionOf(telling), reason }, context))
      return
    }
    case 'register':
    case 'identity':
    case 'distance':
      return tellPapers(happening, { bike, context, today })
    case 'price':
    case 'ways':
      return tellMoney(happening, { bike, context, today })
    case 'ask for part':
    case 'order parts':
    case 'part came':
    case 'part wrong':
    case 'send out':
    case 'shelve':
      return tellParts(happening, { bike, context, today })
    default:
      return tellWork(happening, { bike, context })
  }
}

const blankLimit = {
  position: null,
  min: null,
  max: null,
  asNew: null,
  saleMin: null,
  saleMax: null,
  note: null,
}

/** Takes the readings a few minutes apart, as they would be. */
async function record(taken: readonly Taken[], telling: Telling, context: Context): Promise<void> {
  let minute = 0
  for (const one of taken) {
    for (const [position, value] of placesOf(one, telling.catalogue)) {
      minute += 1
      const now = new Date(context.now.getTime() + minute * 60_000)
      must(await recordReading(await readingOf(one, { position, value, now, telling }), { ...context, now }))
    }
  }
}

function placesOf({ check: key, value, leftOut }: Taken, catalogue: Catalogue): [string | null, string][] {
  if (leftOut && typeof value === 'string') return [[null, value]]
  if (typeof value !== 'string') return Object.entries(value)
  const check = catalogue.checks.find((one) => one.key === key)
  if (check?.sort !== 'measured' || check.positions.length === 0) return [[null, value]]
  return check.positions.map((position) => [position.key, value])
}

async function readingOf(
  taken: Taken,
  given: { position: string | null; value: string; now: Date; telling: Telling },
) {
  const { position, value, now, telling } = given
  const check = telling.catalogue.checks.find((one) => one.key === taken.check)
  if (!check) throw new Error(`there is no check ${taken.check}`)
  const kinds = { measured: 'measured', look: 'answer', code: 'code', number: 'number' } as const
  const asked = check.conditions ?? []
  return {
    id: uuidv7(),
    bike: telling.bike,
    check: taken.check,
    position,
    kind: taken.leftOut ? 'skipped' : kinds[check.sort],
    value,
    unit: check.sort === 'measured' && !taken.leftOut ? check.unit : null,
    conditions: taken.conditions === 'none' ? [] : [...asked, ...(taken.conditions ?? [])],
    engineSpeed: check.sort === 'measured' && check.needsEngineSpeed ? notedSpeedRpm : null,
    instrument:
      check.sort === 'measured' && !taken.leftOut
        ? (taken.instrument ?? check.instruments[0]?.key ?? null)
        : null,
    note: taken.note ?? null,
    takenAt: now.toISOString(),
    supersedes: taken.corrects ? await lastReading(telling, { check: taken.check, position }) : null,
  }
}

async function lastReading({ bike, staff }: Telling, where: { check: string; position: string | null }) {
  const { db } = staff.manager.store
  const last = await db.reading.findFirst({ where: { bikeId: bike, ...where }, orderBy: { seq: 'desc' } })
  return last?.id ?? null
}

async function versionOf({ bike, staff }: Telling): Promise<number> {
  return (await staff.manager.store.db.bike.findUniqueOrThrow({ where: { id: bike } })).version
}

function at(context: Context, made: Date, daysAgo: number): Context {
  return { ...context, now: new Date(made.getTime() - daysAgo * dayMs) }
}
