const leads: Readonly<Record<string, string>> = {
  stamped: 'Stamped on the part',
  maker: 'From the maker',
  shop: 'Set by this shop',
  law: 'From the law',
  standard: 'From a standard',
  'common practice': 'Common practice',
  'starting value': 'Starting value',
}

/** Where a figure comes from: the kind of source, and what is said of it beyond that, so nothing is told twice. */
export function sourceWords({ kind, says }: { kind: string; says: string }): { lead: string; rest: string } {
  const lead = leads[kind] ?? kind
  const again = says.toLowerCase().startsWith(lead.toLowerCase())
  return { lead, rest: again ? says.slice(lead.length).replace(/^[\s,:;.]+/, '') : says }
}
