export const roles = ['technician', 'dealer', 'manager'] as const
export type Role = (typeof roles)[number]

const everyone = ['technician', 'dealer', 'manager'] as const
const money = ['dealer', 'manager'] as const
const manager = ['manager'] as const

/**
 * The one table of who may do what. `code` stands for somebody who holds a one-time code, `device` for anybody
 * at an enrolled device: they have no role yet.
 */
export const may = {
  'shop:open': 'code',
  'device:enrol': 'code',
  'manager:come-back': 'code',
  'session:start': 'device',
  'session:end': everyone,
  'bike:see': everyone,
  'reading:add': everyone,
  'photo:add': everyone,
  'photo:mark': everyone,
  'photo:take-back': everyone,
  'limit:set-for-bike': everyone,
  'work:do': everyone,
  'question:ask': everyone,
  'ride:note': everyone,
  'ready:say': everyone,
  'distance:note': everyone,
  'part:note': everyone,
  'seller-side:end': everyone,
  'money:see': money,
  'viewing:take-in': money,
  'bike:change': money,
  'decision:make': money,
  'offer:make': money,
  'price:note': money,
  'offer:show': money,
  'offer:counter': money,
  'seller-side:start': money,
  'ways:note': money,
  'what-if:keep': money,
  'photo:choose': money,
  'bike:buy': money,
  'bike:pass-up': money,
  'identity:note': money,
  'spend:note': money,
  'part:order': money,
  'bike:make-ready': money,
  'bike:put-on-bench': manager,
  'question:answer': manager,
  'lock:clear': manager,
  'limit:set': manager,
  'instrument:change': manager,
  'people:change': manager,
  'device:change': manager,
  'shop:change': manager,
  'plan:set': manager,
  'figures:change': manager,
  'catalogue:change': manager,
} as const satisfies Record<string, readonly Role[] | 'code' | 'device'>

export type Verb = keyof typeof may
/** Verbs that need a signed-in person. */
export type PersonVerb = {
  [V in Verb]: (typeof may)[V] extends readonly Role[] ? V : never
}[Verb]

/**
 * What a session on the seller's side may do beside what a technician may: what the seller may look at, and write
 * down what he says.
 */
const onSellerSide: readonly PersonVerb[] = ['offer:show', 'offer:counter']

/** Whether somebody may do something as things stand in their session. */
export function whoMay(who: { roles: readonly Role[]; sellerSide?: boolean }, verb: PersonVerb): boolean {
  return mayDo(who.roles, verb) || (who.sellerSide === true && onSellerSide.includes(verb))
}

export function mayDo(held: readonly Role[], verb: PersonVerb): boolean {
  return (may[verb] as readonly Role[]).some((role) => held.includes(role))
}
