import type { Source } from '../core/checks/catalogue'

/** A rule of the trade that no published page was found for. */
export const commonPractice: Source = {
  kind: 'common practice',
  says: 'common practice, no published source',
}

/** A figure invented so that a shop can begin; its own figure takes the place of this one. */
export const startingValue: Source = {
  kind: 'starting value',
  says: 'starting value, invented: the shop sets its own',
}

/** The way of measuring is the trade's, the bound belongs to the model. */
export const setByModel: Source = {
  kind: 'maker',
  says: "set by model: the maker's sheet gives the bound, so nothing is judged until it is entered",
}

export const stampedOnDisc: Source = {
  kind: 'stamped',
  says: 'the least thickness is stamped on the disc itself; nothing is judged until it is entered',
}

/** Ages at which a thing counts as due: makers differ, and no published source gives one figure. */
export const ageStartingValue: Source = {
  kind: 'starting value',
  says: "starting value, common practice: makers' schedules differ, and the model's sheet goes first",
}

export const treadLaw: Source = {
  kind: 'law',
  says:
    'Highway Code annex 6 (United Kingdom): at least 1.0 mm over three quarters of the breadth and all the ' +
    'way round; on mopeds the pattern must be visible',
}

export const treadLawGermany: Source = {
  kind: 'law',
  says: 'StVZO section 36(2) (Germany): 1.6 mm, light motorcycles and mopeds 1.0 mm',
}

export const treadLawAustria: Source = {
  kind: 'law',
  says: 'KDV section 4(4) (Austria): 1.6 mm, light motorcycles and mopeds 1.0 mm',
}

export const treadLawUnitedStates: Source = {
  kind: 'law',
  says:
    'FMVSS 119 S6.4 (United States): wear indicators of motorcycle tyres at 1/32 in, which is 0.8 mm; ' +
    'COMAR 11.14.03.05 (Maryland) refuses below that; states may differ',
}

export const tyreSizeTables: Source = {
  kind: 'standard',
  says: 'published tables of load index and speed symbol; the size itself is told, and the papers judge it',
}

export const chainStandard: Source = {
  kind: 'standard',
  says:
    'JIS B 1801 as quoted, 20 pitches, 3 %: pitch 12.7 mm 254.0 new and 261.6 at the end, 15.875 mm 317.5 and ' +
    "327.0; makers' limits run from 1 to 3 %, so the model's own goes first",
}

export const batteryManual: Source = {
  kind: 'standard',
  says:
    'US Army TM 9-6140-200-14 section 4-7: more than 0.025 between the cells of a charged battery is ' +
    'unserviceable; TM 5-3820-256-24-4 table 2: 1.225 at 80 °F is three quarters charged',
}

/** Table 2 of that manual gives the share of charge by the density of the acid at 80 °F. */
export const acidManual: Source = {
  kind: 'standard',
  says: 'US Army TM 5-3820-256-24-4 table 2: 1.225 at 80 °F is three quarters charged',
}

export const brakeManual: Source = {
  kind: 'standard',
  says:
    'older motorcycle inspection manual of the United Kingdom, section 3.3: one brake at least 30 %, the other ' +
    'at least 25 % of the weight of machine and rider',
}

export const rimManual: Source = {
  kind: 'standard',
  says:
    "motorcycle inspection manual of the United Kingdom's vehicle agency, section 5.2.2: side to side at " +
    'most 4 mm for a steel rim, 2 mm for an alloy rim',
}

export const lampManual: Source = {
  kind: 'standard',
  says: "motorcycle inspection manual of the United Kingdom's vehicle agency, section 4 (lamps)",
}

export const wheelManual: Source = {
  kind: 'standard',
  says: "motorcycle inspection manual of the United Kingdom's vehicle agency, section 5 (wheels and suspension)",
}

export const structureManual: Source = {
  kind: 'standard',
  says: "motorcycle inspection manual of the United Kingdom's vehicle agency, section 6 (structure)",
}

export const tyreCode: Source = {
  kind: 'standard',
  says:
    '49 CFR 574.5: week, then year, two digits each since July 2000. The age that is too old is in no law ' +
    'that was found: the ages are settings of the shop and common practice, no published source',
}
