import type { Caution } from '../core/checks/catalogue'

/** Shown beside the work that can hurt. They remind; they do not replace training or the rules on the spot. */
export const cautions = [
  {
    key: 'law',
    title: 'Rules first',
    says:
      'The law where you are and the practice of a qualified, licensed workshop come before anything written ' +
      'here. Leave the work to someone qualified where you are not.',
  },
  {
    key: 'fuel',
    title: 'Petrol burns',
    says:
      'Petrol vapour creeps along the floor and a spark lights it. Open doors, no flame, no smoking, no switch ' +
      'or charger nearby, extinguisher within reach; a puddle means stepping back before anything else. ' +
      'Catch what drains in a closed metal can.',
  },
  {
    key: 'tank-heat',
    title: 'No heat near a tank',
    says:
      'An empty tank explodes more easily than a full one. No welding, soldering, grinding or hot air on or ' +
      'beside a tank, rinsed or not; such work goes to somebody who is equipped for it.',
  },
  {
    key: 'exhaust-gas',
    title: 'Exhaust gas kills',
    says:
      'It cannot be smelt reliably and it works quickly. Run an engine outdoors, or with the gas led outside ' +
      'through a hose.',
  },
  {
    key: 'running-engine',
    title: 'Engine running',
    says:
      'Neutral, on its stand, a hand near the kill switch. Sleeves, hair and cables stay away from anything ' +
      'that turns; nobody stands in line with the wheels.',
  },
  {
    key: 'hot-parts',
    title: 'Hot parts',
    says: 'Pipes, cylinders and discs burn skin for half an hour after the engine stops. Touch late, with gloves.',
  },
  {
    key: 'moving-parts',
    title: 'Fingers in chain and spokes',
    says:
      'Turn the wheel by hand with the engine off and the key out. Hold the tyre, never the chain, the spokes ' +
      'or the disc; never clean a chain with the engine driving it.',
  },
  {
    key: 'lifting',
    title: 'Lifting and falling',
    says:
      'A motorcycle that tips cannot be caught. Level ground, a rated lift or stand, straps before a wheel ' +
      'comes out, a second person for the heavy moment.',
  },
  {
    key: 'acid',
    title: 'Battery acid and gas',
    says:
      'Acid burns eyes and a charging battery gives off gas that explodes. Goggles and gloves, fresh air, ' +
      'charger off before the clips come off; earth lead off first and on last.',
  },
  {
    key: 'lithium',
    title: 'Charging lithium',
    says:
      'A lithium battery burns by itself when it is charged wrongly. Use a charger made for its kind, on a bare ' +
      'floor away from the bike, somebody near; one that is swollen, hot or dropped is never charged again.',
  },
  {
    key: 'brake-fluid',
    title: 'Brake fluid',
    says:
      'It strips paint and harms eyes and skin. Cover the tank, wear gloves and goggles, rinse splashes with ' +
      'plenty of water; only fluid of the grade on the cap, from a sealed bottle.',
  },
  {
    key: 'brake-work',
    title: 'Brakes carry lives',
    says:
      "Torque to the maker's figure, pump until the lever is firm before the bike moves, and have a second " +
      'person look. Whoever is not trained in brakes does not do them.',
  },
  {
    key: 'old-linings',
    title: 'Dust of old linings and gaskets',
    says:
      'Linings and gaskets of unknown age are treated as if they held asbestos. Never blow, brush or scrape them ' +
      'dry: damp them, wear a mask of the right class, bag what comes off as the local rules say.',
  },
  {
    key: 'coatings',
    title: 'Paint, sealer and solvent',
    says:
      'Two-pack paint and tank sealer can hold isocyanates, which harm lungs for good. Follow the safety sheet: ' +
      'fresh air or an air-fed mask, gloves, no flame; spraying belongs in a booth with trained people.',
  },
  {
    key: 'coolant',
    title: 'Coolant',
    says:
      'A hot system sprays scalding liquid when it is opened, and coolant poisons people and animals. Open it ' +
      'cold, mop up spills, hand in what is drained.',
  },
  {
    key: 'old-oil',
    title: 'Used oil',
    says: 'It is bad for skin and for drains. Gloves on, a tray underneath, and hand it in as the local rules say.',
  },
  {
    key: 'waste',
    title: 'What is left over',
    says:
      'Oil, fuel, coolant, brake fluid, acid, batteries, tyres and soaked rags go each into its own marked and ' +
      'closed container and then where the local rules say: never into a drain, the ground or the bin.',
  },
  {
    key: 'springs',
    title: 'Springs and gas dampers',
    says:
      'Springs, fork caps and stand springs fly when they come free: goggles on, release the load slowly, stay ' +
      'out of line. A gas damper is under pressure for life: never drilled, opened or heated.',
  },
  {
    key: 'tyre-work',
    title: 'Tyre and rim',
    says:
      'A bead seats with a bang and a wrong tyre can burst: only in a cage or with a long hose, never above the ' +
      'pressure on the tyre, fingers away from the rim. A rim that is cracked is not inflated at all.',
  },
  {
    key: 'high-voltage',
    title: 'Ignition and short circuits',
    says:
      'Ignition voltage can stop a heart, above all with a pacemaker. A bare wire across a battery glows: earth ' +
      'lead off before work on the loom, rings and watch off, the right fuse back in.',
  },
  {
    key: 'road-ride',
    title: 'On the road',
    says:
      'Licence, cover, plates and helmet before the wheels turn. Walking pace and both brakes first; turn back ' +
      'at the first thing that feels wrong.',
  },
] satisfies readonly Caution[]
