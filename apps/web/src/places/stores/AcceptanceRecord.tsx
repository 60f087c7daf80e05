import type { Acceptance } from '@corewright/contracts/acceptance';
import { useQuery } from '@tanstack/react-query';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { sayInstant } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { acceptancesQuery } from './acceptance-queries.js';
import { amissWords } from './core-points.js';
import { sayDecision, saySuggested } from './say-acceptance.js';

const columns: readonly Column<Acceptance>[] = [
  {
    key: 'decided',
    head: 'decided',
    isLead: true,
    cell: (each) => (each.superseded ? <s>{sayDecision(each)}</s> : <b>{sayDecision(each)}</b>),
  },
  { key: 'by', head: 'looked over by', cell: ({ by, at }) => `${by}, ${sayInstant(at, new Date())}` },
  { key: 'suggested', head: 'suggested', isWide: true, cell: ({ suggested, currency }) => saySuggested(suggested, currency) },
  { key: 'amiss', head: 'amiss', isWide: true, cell: sayAmiss },
];

function sayAmiss({ points, components }: Acceptance): string {
  const amiss = [
    ...points.map((each) => ({ ...each, what: amissWords[each.point] })),
    ...components.map((each) => ({ ...each, what: each.name })),
  ].filter(({ answer }) => answer === 'no');
  if (amiss.length === 0) return 'nothing that was seen';
  return amiss.map(({ what, note }) => (note === '' ? what : `${what}: ${note}`)).join('; ');
}

/** The acceptance sheets of a unit, the newest first; nothing is shown where none was filled in. */
export function AcceptanceRecord({ unitId }: { readonly unitId: string }) {
  const found = useQuery(acceptancesQuery(unitId));
  if (found.isError) return <Failure error={found.error} word="Not shown: its acceptance sheets" />;
  if (found.data === undefined || found.data.acceptances.length === 0) return null;
  return (
    <Section title="Acceptance sheets" aside="newest first">
      <Table caption="Acceptance sheets" columns={columns} rows={found.data.acceptances} rowKey={({ id }) => id} />
    </Section>
  );
}
