import type { Instrument } from '../core/checks/catalogue'

/*
 * What a small shop measures with. Every resolution is what such a tool commonly shows; every standard
 * uncertainty is a starting value that the shop replaces by the one on its own tool's certificate.
 */

export const calliper: Instrument = {
  key: 'calliper',
  name: 'Calliper',
  resolution: 0.05,
  unit: 'mm',
  standardUncertainty: 0.02,
}

export const micrometer: Instrument = {
  key: 'micrometer',
  name: 'Micrometer',
  resolution: 0.01,
  unit: 'mm',
  standardUncertainty: 0.004,
}

export const treadGauge: Instrument = {
  key: 'tread-gauge',
  name: 'Tread depth gauge',
  resolution: 0.1,
  unit: 'mm',
  standardUncertainty: 0.05,
}

export const steelRule: Instrument = {
  key: 'steel-rule',
  name: 'Steel rule',
  resolution: 0.5,
  unit: 'mm',
  standardUncertainty: 0.3,
}

export const dialGauge: Instrument = {
  key: 'dial-gauge',
  name: 'Dial gauge on a stand',
  resolution: 0.01,
  unit: 'mm',
  standardUncertainty: 0.05,
}

export const multimeter: Instrument = {
  key: 'multimeter',
  name: 'Multimeter',
  resolution: 0.01,
  unit: 'V',
  standardUncertainty: 0.02,
}

/** The same meter set to milliamperes: its scale for small currents. */
export const ammeter: Instrument = {
  key: 'ammeter',
  name: 'Multimeter, milliamperes',
  resolution: 0.1,
  unit: 'mA',
  standardUncertainty: 0.2,
}

export const hydrometer: Instrument = {
  key: 'hydrometer',
  name: 'Hydrometer',
  resolution: 0.005,
  unit: 'kg/L',
  standardUncertainty: 0.003,
}

export const torqueWrench: Instrument = {
  key: 'torque-wrench',
  name: 'Torque wrench',
  resolution: 1,
  unit: 'N·m',
  standardUncertainty: 1,
}

export const pressureGauge: Instrument = {
  key: 'pressure-gauge',
  name: 'Tyre pressure gauge',
  resolution: 5,
  unit: 'kPa',
  standardUncertainty: 4,
}

export const compressionGauge: Instrument = {
  key: 'compression-gauge',
  name: 'Compression gauge',
  resolution: 25,
  unit: 'kPa',
  standardUncertainty: 20,
}

export const oilPressureGauge: Instrument = {
  key: 'oil-pressure-gauge',
  name: 'Oil pressure gauge',
  resolution: 10,
  unit: 'kPa',
  standardUncertainty: 10,
}

export const tachometer: Instrument = {
  key: 'rev-counter',
  name: 'Rev counter',
  resolution: 50,
  unit: 'rpm',
  standardUncertainty: 40,
}

export const brakeTester: Instrument = {
  key: 'brake-tester',
  name: 'Brake tester',
  resolution: 1,
  unit: '%',
  standardUncertainty: 1.5,
}
