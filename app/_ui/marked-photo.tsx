/** An arrow or a circle, in parts of the picture's width and height; a radius in parts of its width. */
export type MarkShape =
  | { kind: 'arrow'; fromX: number; fromY: number; toX: number; toY: number }
  | { kind: 'circle'; x: number; y: number; radius: number }

type Size = { width: number; height: number }

/** A photo with what is drawn beside it, at any size and on paper. The picture itself holds none of it. */
export function MarkedPhoto({
  src,
  alt,
  width,
  height,
  marks,
  chosen = null,
  className = 'w-full',
}: Size & {
  src: string
  alt: string
  marks: readonly MarkShape[]
  /** The mark that is being moved stands out. */
  chosen?: number | null
  className?: string
}) {
  return (
    <svg role="img" aria-label={alt} viewBox={`0 0 ${width} ${height}`} className={`block ${className}`}>
      <image href={src} width={width} height={height} />
      {marks.map((mark, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a mark is nothing but its place in the list.
        <Mark key={index} mark={mark} size={{ width, height }} chosen={index === chosen} />
      ))}
    </svg>
  )
}

/** What is drawn, laid over a small picture that is shown whole; drawn bolder, so that it is seen at that size. */
export function MarksOver({ marks, width, height }: Size & { marks: readonly MarkShape[] }) {
  if (marks.length === 0) return null
  return (
    <svg
      aria-hidden="true"
      viewBox={`0 0 ${width} ${height}`}
      className="pointer-events-none absolute inset-0 size-full"
    >
      {marks.map((mark, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a mark is nothing but its place in the list.
        <Mark key={index} mark={mark} size={{ width, height }} chosen={false} bold={2.5} />
      ))}
    </svg>
  )
}

/** Dark on light, so that it is seen on black rubber as well as on chrome. */
function Mark({
  mark,
  size,
  chosen,
  bold = 1,
}: {
  mark: MarkShape
  size: Size
  chosen: boolean
  bold?: number
}) {
  const stroke = (bold * Math.max(size.width, size.height)) / 120
  const path = pathOf(mark, size, bold)
  return (
    <g fill="none" strokeLinecap="round" strokeLinejoin="round">
      <path d={path} className="text-white" stroke="currentColor" strokeWidth={stroke * 2.2} />
      <path
        d={path}
        className="text-drawn"
        stroke="currentColor"
        strokeWidth={stroke}
        strokeDasharray={chosen ? `${stroke * 3} ${stroke * 2}` : undefined}
      />
    </g>
  )
}

/** The lines of a mark in pixels of the picture; `bold` makes the head of an arrow larger. */
export function pathOf(mark: MarkShape, { width, height }: Size, bold = 1): string {
  const at = (value: number) => Math.round(value * 10) / 10
  if (mark.kind === 'circle') {
    const [x, y, r] = [mark.x * width, mark.y * height, mark.radius * width]
    const half = `a${at(r)} ${at(r)} 0 1 0 `
    return `M${at(x - r)} ${at(y)}${half}${at(2 * r)} 0${half}${at(-2 * r)} 0`
  }
  const from = { x: mark.fromX * width, y: mark.fromY * height }
  const to = { x: mark.toX * width, y: mark.toY * height }
  const back = Math.atan2(from.y - to.y, from.x - to.x)
  const head = (bold * Math.max(width, height)) / 25
  const wing = (turn: number) =>
    `M${at(to.x)} ${at(to.y)}L${at(to.x + head * Math.cos(back + turn))} ${at(to.y + head * Math.sin(back + turn))}`
  return `M${at(from.x)} ${at(from.y)}L${at(to.x)} ${at(to.y)}${wing(Math.PI / 6)}${wing(-Math.PI / 6)}`
}

/** What is drawn, in words: "2 arrows, 1 circle". */
export function marksInWords(marks: readonly MarkShape[]): string {
  const count = (kind: MarkShape['kind']) => marks.filter((mark) => mark.kind === kind).length
  const said = (many: number, word: string) => (many > 0 ? [`${many} ${word}${many === 1 ? '' : 's'}`] : [])
  return [...said(count('arrow'), 'arrow'), ...said(count('circle'), 'circle')].join(', ')
}
