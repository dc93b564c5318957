/**
 * Raised whenever a formula, or the grid that a distribution is worked out on, changes what a figure comes to, so that an
 * offer says by which rules it was worked out.
 */
export const coreVersion = '3'
