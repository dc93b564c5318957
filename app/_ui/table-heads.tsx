/** The line of heads over the columns of a plain table; a head may ask for a width of its own. */
export function TableHeads({ heads }: { heads: readonly (string | { label: string; width: string })[] }) {
  return (
    <thead>
      <tr className="border-b-2 border-ink align-bottom">
        {heads.map((head) => {
          const { label, width } = typeof head === 'string' ? { label: head, width: '' } : head
          return (
            <th key={label} scope="col" className={`py-1 pr-3 last:pr-0 ${width}`}>
              {label}
            </th>
          )
        })}
      </tr>
    </thead>
  )
}
