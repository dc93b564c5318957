import type { Operation } from '../core/checks/catalogue'

/**
 * Labour steps that several jobs share, off and on again. Hours are invented starting values for a trained
 * person on fasteners that come free; what `needs` names is counted once for all.
 */
export const operations = [
  { key: 'seat-off', title: 'Seat off', hours: { low: 0.05, likely: 0.1, high: 0.15 }, fasteners: false },
  { key: 'tank-off', title: 'Tank off', hours: { low: 0.2, likely: 0.3, high: 0.6 }, needs: ['seat-off'] },
  {
    key: 'airbox-off',
    title: 'Air box back or out',
    hours: { low: 0.2, likely: 0.4, high: 0.9 },
    needs: ['tank-off'],
  },
  {
    key: 'carbs-off',
    title: 'Carburettors off',
    hours: { low: 0.5, likely: 0.8, high: 1.7 },
    needs: ['airbox-off'],
  },
  {
    key: 'plugs-out',
    title: 'Spark plugs out',
    hours: { low: 0.15, likely: 0.3, high: 0.8 },
    needs: ['tank-off'],
  },
  {
    key: 'valve-cover-off',
    title: 'Valve cover off',
    hours: { low: 0.3, likely: 0.5, high: 1.0 },
    needs: ['tank-off'],
  },
  {
    key: 'cylinder-head-off',
    title: 'Cylinder head off',
    hours: { low: 2, likely: 3, high: 5 },
    needs: ['valve-cover-off'],
  },
  { key: 'drain-oil', title: 'Oil drained and filled', hours: { low: 0.2, likely: 0.3, high: 0.5 } },
  { key: 'drain-coolant', title: 'Coolant drained and filled', hours: { low: 0.3, likely: 0.4, high: 0.7 } },
  {
    key: 'clutch-cover-off',
    title: 'Clutch cover off',
    hours: { low: 0.3, likely: 0.5, high: 1.0 },
    needs: ['drain-oil'],
  },
  {
    key: 'clutch-out',
    title: 'Clutch plates and basket out',
    hours: { low: 0.4, likely: 0.6, high: 1.0 },
    needs: ['clutch-cover-off'],
  },
  {
    key: 'engine-out',
    title: 'Engine out',
    hours: { low: 3, likely: 4.5, high: 7 },
    needs: ['tank-off', 'drain-oil'],
  },
  { key: 'front-wheel-off', title: 'Front wheel out', hours: { low: 0.2, likely: 0.3, high: 0.6 } },
  { key: 'rear-wheel-off', title: 'Rear wheel out', hours: { low: 0.25, likely: 0.4, high: 0.8 } },
  { key: 'front-calipers-off', title: 'Front calipers off', hours: { low: 0.15, likely: 0.25, high: 0.5 } },
  { key: 'rear-caliper-off', title: 'Rear caliper off', hours: { low: 0.1, likely: 0.2, high: 0.4 } },
  {
    key: 'front-brake-bled',
    title: 'Front brake filled and bled',
    hours: { low: 0.3, likely: 0.4, high: 0.8 },
  },
  {
    key: 'rear-brake-bled',
    title: 'Rear brake filled and bled',
    hours: { low: 0.2, likely: 0.3, high: 0.6 },
  },
  {
    key: 'fork-legs-out',
    title: 'Fork legs out',
    hours: { low: 0.4, likely: 0.6, high: 1.2 },
    needs: ['front-wheel-off'],
  },
  {
    key: 'headstock-stripped',
    title: 'Headstock stripped',
    hours: { low: 0.5, likely: 0.8, high: 1.6 },
    needs: ['fork-legs-out'],
  },
  {
    key: 'swing-arm-out',
    title: 'Swing arm out',
    hours: { low: 0.6, likely: 1.0, high: 2.2 },
    needs: ['rear-wheel-off'],
  },
  { key: 'sprocket-cover-off', title: 'Sprocket cover off', hours: { low: 0.1, likely: 0.2, high: 0.4 } },
  {
    key: 'battery-out',
    title: 'Battery out',
    hours: { low: 0.05, likely: 0.1, high: 0.2 },
    needs: ['seat-off'],
    fasteners: false,
  },
  { key: 'headlamp-off', title: 'Headlamp out', hours: { low: 0.1, likely: 0.15, high: 0.4 } },
] satisfies readonly Operation[]
