/**
 * Raised whenever a formula changes what a figure comes to, so that an offer says by which rules it was
 * worked out.
 */
export const coreVersion = '2'
