import type { OpenStateKind } from '../core/checks/open-states'

/**
 * What a labour step leaves unsafe while it is under way, by the key of the operation. It is offered ticked when
 * a job with that step is started; whoever starts it decides. Common practice, no published source.
 */
export const openedBy: Readonly<Record<string, OpenStateKind>> = {
  'tank-off': 'fuel-off',
  'tank-drained': 'fuel-off',
  'fuel-pump-out': 'fuel-off',
  'carbs-off': 'fuel-off',
  'carbs-stripped': 'fuel-off',
  'throttle-bodies-off': 'fuel-off',
  'drain-oil': 'oil-drained',
  'drain-coolant': 'coolant-out',
  'front-wheel-off': 'axle-loose',
  'rear-wheel-off': 'axle-loose',
  'front-calipers-off': 'brake-open',
  'rear-caliper-off': 'brake-open',
  'front-master-off': 'brake-open',
  'rear-master-off': 'brake-open',
  'front-brake-bled': 'brake-open',
  'rear-brake-bled': 'brake-open',
  'front-discs-off': 'brake-open',
  'rear-disc-off': 'brake-open',
}
