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

export const treadLaw: Source = {
  kind: 'law',
  says:
    'Highway Code annex 6: at least 1.0 mm over three quarters of the breadth and all the way round ' +
    "(United Kingdom; where the shop's country says otherwise, set it)",
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
