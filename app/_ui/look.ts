/** Light is how it starts: it is read best in the sun. Dark is chosen on a device and holds for that device. */
export const looks = ['light', 'dark'] as const
export type Look = (typeof looks)[number]

/** The cookie that holds the choice, so that a page comes in it from the server and never flashes. */
export const lookCookie = 'look'

export function lookIn(value: string | undefined): Look {
  return looks.find((look) => look === value) ?? 'light'
}
