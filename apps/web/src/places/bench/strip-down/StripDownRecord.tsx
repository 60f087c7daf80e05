import type { StripDown, StripFinding, UnitLink } from '@corewright/contracts/cores';
import { useQuery } from '@tanstack/react-query';
import { Acts, ButtonLink } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Go } from '../../../ui/Go.js';
import { Marks } from '../../../ui/Marks.js';
import { Section } from '../../../ui/Section.js';
import { sayInstant } from '../../../ui/say-when.js';
import { type Column, Table } from '../../../ui/Table.js';
import { Photographs } from '../../photographs/Photographs.js';
import { FindingSaid } from './ComponentRow.js';
import { stripDownQuery } from './queries.js';

/** What was recorded when a unit was taken apart, and the units that a replaced casing links to it. */
export function StripDownRecord({ unitId }: { readonly unitId: string }) {
  const found = useQuery(stripDownQuery(unitId)).data;
  if (found === undefined) return null;
  const { stripDown, links } = found;
  return (
    <>
      {links.length > 0 && <Links links={links} />}
      {stripDown !== null && <Recorded strip={stripDown} unitId={unitId} />}
    </>
  );
}

function Recorded({ strip, unitId }: { readonly strip: StripDown; readonly unitId: string }) {
  const findings = strip.components.flatMap((component) => component.findings);
  const undecided = strip.components.filter((component) => component.undecided !== '0').length;
  const state = strip.closedAt === null ? `under way, ${undecided} to go` : `finished by ${strip.closedBy}`;
  return (
    <Section title="Strip-down" aside={state}>
      {findings.length === 0 ? (
        <p className="quiet">Nothing was recorded yet.</p>
      ) : (
        <Table caption="What was found at the strip-down" columns={COLUMNS} rows={findings} rowKey={(finding) => finding.id} />
      )}
      {strip.closedAt === null && (
        <Acts>
          <ButtonLink href={`/bench/strip-down/${unitId}`}>Go on with it</ButtonLink>
        </Acts>
      )}
    </Section>
  );
}

const COLUMNS: readonly Column<StripFinding>[] = [
  {
    key: 'name',
    head: 'component',
    isLead: true,
    cell: ({ position, name, superseded }) => (superseded ? <s>{`${position}  ${name}`}</s> : `${position}  ${name}`),
  },
  {
    key: 'said',
    head: 'found',
    isWide: true,
    cell: (finding) => (
      <>
        <FindingSaid finding={finding} of={finding.quantity} />
        <Photographs pictures={finding.pictures} subject={finding.name} subjectIds={[finding.id]} />
      </>
    ),
  },
  { key: 'at', head: 'when', cell: (finding) => sayInstant(finding.at, new Date()) },
];

function Links({ links }: { readonly links: readonly UnitLink[] }) {
  return (
    <Section title="Another casing" aside="each unit keeps its own stamps">
      <ul>
        {links.map((link) => (
          <li key={`${link.unit.id} ${link.at}`}>
            {link.direction}{' '}
            <Go href={`/stores/things/${link.unit.id}`}>
              <Code code={link.unit.code} /> {link.unit.name}
            </Go>
            {link.marks !== '' && (
              <>
                , stamped <Marks text={link.marks} />
              </>
            )}
            : {link.words} <span className="quiet">{link.by}</span>
          </li>
        ))}
      </ul>
    </Section>
  );
}
