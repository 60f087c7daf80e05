import { useQuery } from '@tanstack/react-query';
import { Acts, ButtonLink } from '../../ui/Button.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { Table } from '../../ui/Table.js';
import { unitTypesQuery } from './queries.js';

/** What this workshop rebuilds, as far as it has been written down. It comes in by files; parts are looked at in Stores. */
export function CatalogueSection() {
  const types = useQuery(unitTypesQuery);
  const all = types.data?.unitTypes ?? [];
  const lines = all.reduce((sum, type) => sum + type.lineCount, 0);
  return (
    <Section
      title="Unit types and parts"
      aside={types.data === undefined ? undefined : `${all.length} unit types, ${lines} lines`}
    >
      {types.data === undefined && types.error === null && <Waiting>Unit types are being fetched.</Waiting>}
      {types.error !== null && <Failure word="Not shown" error={types.error} />}
      {types.data !== undefined && all.length === 0 && (
        <Empty title="No unit type yet">Bring in unit-types.csv and its lines, above.</Empty>
      )}
      {all.length > 0 && (
        <Table
          caption="Unit types"
          rows={all}
          rowKey={(type) => type.id}
          columns={[
            { key: 'name', head: 'unit type', isLead: true, cell: (type) => <b>{type.name}</b> },
            { key: 'maker', head: 'maker', cell: (type) => type.maker },
            { key: 'kind', head: 'kind', cell: (type) => type.kind },
            { key: 'recognise', head: 'known by', cell: (type) => type.recogniseBy },
            { key: 'lines', head: 'lines', isNumeric: true, cell: (type) => type.lineCount },
          ]}
        />
      )}
      <Acts>
        <ButtonLink href="/stores">Search parts in Stores</ButtonLink>
      </Acts>
    </Section>
  );
}
