/** Where a limit for a model or for every bike can come from, as the forms offer it. */
export const sourceChoices = [
  { value: 'maker', label: 'Maker’s sheet' },
  { value: 'law', label: 'Law' },
  { value: 'standard', label: 'Standard' },
  { value: 'common practice', label: 'Common practice' },
] as const
