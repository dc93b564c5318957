import { uuidv7 } from 'uuidv7'
import { addDays } from '../../core/quantity/days'
import { noteTimeOff, setPersonWork } from '../../shop/bench-people'
import { dayIn } from '../../shop/instants'
import { must } from './must'
import type { Staff } from './tell'

/** Who works at the bench of the invented shop beside its technician, and when he is away. */
export async function setUpBench(
  { manager, dealer, technician }: Staff,
  { zone, made }: { zone: string; made: Date },
): Promise<void> {
  const usual = { version: 0, atBench: 'yes' }
  must(
    await setPersonWork(
      {
        ...usual,
        ...{ person: dealer.who!.personId, skills: ['looks', 'electrics'], pace: '1.3' },
        ...{ weekdays: ['2', '4'], from: '13:00', to: '17:00' },
      },
      manager,
    ),
  )
  const away = addDays(dayIn(zone, made), 5)
  must(
    await noteTimeOff(
      {
        ...{ id: uuidv7(), person: technician.who!.personId, what: 'Customer’s own bike' },
        ...{ fromDay: away, toDay: '', from: '13:00', to: '17:00' },
      },
      manager,
    ),
  )
}
