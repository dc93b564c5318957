/**
 * What the symbols on a side wall stand for. Each row is marked by where it is from, since not all of them could
 * be read: the test of the published values names the source of those that were.
 */

/**
 * Kilograms by load index. The steps are those of the preferred numbers R80, so that eighty steps are ten times
 * the load: 45 kg × 10^(index/80), rounded.
 */
export const loadKg: Readonly<Record<number, number>> = {
  // 20 to 49: from memory.
  ...{ 20: 80, 21: 82.5, 22: 85, 23: 87.5, 24: 90, 25: 92.5, 26: 95, 27: 97.5, 28: 100, 29: 103 },
  ...{ 30: 106, 31: 109, 32: 112, 33: 115, 34: 118, 35: 121, 36: 125, 37: 128, 38: 132, 39: 136 },
  ...{ 40: 140, 41: 145, 42: 150, 43: 155, 44: 160, 45: 165, 46: 170, 47: 175, 48: 180, 49: 185 },
  // 50 to 53: read. 54 to 59: from memory, but for 58, which was read.
  ...{ 50: 190, 51: 195, 52: 200, 53: 206, 54: 212, 55: 218, 56: 224, 57: 230, 58: 236, 59: 243 },
  // 60 to 100: read.
  ...{ 60: 250, 61: 257, 62: 265, 63: 272, 64: 280, 65: 290, 66: 300, 67: 307, 68: 315, 69: 325 },
  ...{ 70: 335, 71: 345, 72: 355, 73: 365, 74: 375, 75: 387, 76: 400, 77: 412, 78: 425, 79: 437 },
  ...{ 80: 450, 81: 462, 82: 475, 83: 487, 84: 500, 85: 515, 86: 530, 87: 545, 88: 560, 89: 580 },
  ...{ 90: 600, 91: 615, 92: 630, 93: 650, 94: 670, 95: 690, 96: 710, 97: 730, 98: 750, 99: 775 },
  100: 800,
}

/** Kilometres an hour by speed symbol, the slowest first; H is out of the order of the alphabet. */
export const speedKmh: Readonly<Record<string, number>> = {
  // B to K: from memory.
  ...{ B: 50, C: 60, D: 65, E: 70, F: 80, G: 90, J: 100, K: 110 },
  // L to Y: read.
  ...{ L: 120, M: 130, N: 140, P: 150, Q: 160 },
  ...{ R: 170, S: 180, T: 190, U: 200, H: 210, V: 240, W: 270, Y: 300 },
}

/**
 * Millimetres by the second letter of an alphanumeric size, whose first is M for motorcycle. The letters are
 * classes of width; the millimetres are those of the metric sizes that a trade chart sets beside them, read.
 */
export const widthOfLetterMm: Readonly<Record<string, number>> = {
  ...{ H: 80, J: 90, M: 100, N: 110, P: 120, R: 120, T: 130, U: 140, V: 150 },
}
