import type { IdentificationShown } from '@corewright/contracts/identify';
import { useQuery } from '@tanstack/react-query';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { sayInstant } from '../../ui/say-when.js';
import { type Column, Table } from '../../ui/Table.js';
import { identificationsQuery } from './identify-queries.js';

const columns: readonly Column<IdentificationShown>[] = [
  { key: 'type', head: 'it is', isLead: true, cell: ({ unitType }) => <b>{unitType?.name ?? 'not known after all'}</b> },
  { key: 'by', head: 'said by', cell: ({ by, at }) => `${by}, ${sayInstant(at, new Date())}` },
  { key: 'for', head: 'by what was read', isWide: true, cell: (said) => wordsOf(said) },
];

/** Who said what a unit is, and by what. Nothing is shown where nobody has read it. */
export function Identifications({ unitId }: { readonly unitId: string }) {
  const said = useQuery(identificationsQuery(unitId));
  if (said.isError) return <Failure error={said.error} word="Not shown: what it was identified by" />;
  if (said.data === undefined || said.data.identifications.length === 0) return null;
  return (
    <Section title="What it is, by whom" aside="newest first">
      <Table caption="What it is, by whom" columns={columns} rows={said.data.identifications} rowKey={(each) => each.id} />
    </Section>
  );
}

function wordsOf({ speaksFor, speaksAgainst, why }: IdentificationShown): string {
  const said = [
    ...speaksFor,
    ...speaksAgainst.map((sentence) => `Against: ${sentence}`),
    ...(why === '' ? [] : [`All the same, because: ${why}`]),
  ];
  return said.length === 0 ? 'Nothing that was read speaks of it.' : said.join(' ');
}
