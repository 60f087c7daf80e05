import type { BuildStandard } from '@corewright/contracts/base';
import type { BrokenCores, BuildableType, OnDonors } from '@corewright/contracts/buildable';
import { useQuery } from '@tanstack/react-query';
import { ButtonLink } from '../../ui/Button.js';
import { CautionLine } from '../../ui/CautionLine.js';
import { Code } from '../../ui/Code.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Fold } from '../../ui/Fold.js';
import { FieldPair } from '../../ui/Form.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead, Section } from '../../ui/Section.js';
import { SelectField } from '../../ui/SelectField.js';
import { type Column, Table } from '../../ui/Table.js';
import { type BuildableAsked, DONORS, LINES, OWN } from './buildable-asked.js';
import { STANDARDS } from './NewJobScreen.js';
import { buildableQuery } from './queries.js';

const COLUMNS: readonly Column<BuildableType>[] = [
  { key: 'type', head: 'unit type', isLead: true, width: '22%', cell: ({ unitType }) => <b>{unitType.name}</b> },
  { key: 'builds', head: 'can be built', isNumeric: true, cell: ({ builds }) => <b>{builds}</b> },
  { key: 'cores', head: 'free cores', isNumeric: true, cell: ({ cores }) => cores },
  { key: 'next', head: 'what stops the next one', isWide: true, cell: (type) => <Stops type={type} /> },
];

export interface BuildableScreenProps {
  readonly asked: BuildableAsked;
  readonly onAsk: (asked: BuildableAsked) => void;
}

/** How many rebuilds the stock allows, all types together, and what stops the next one of each. */
export function BuildableScreen({ asked, onAsk }: BuildableScreenProps) {
  const answer = useQuery(buildableQuery(asked));
  return (
    <>
      <PageHead
        title="What could be built"
        note="The most rebuilds at once from what is free now, on free cores, by the parts list of each unit type."
        acts={<ButtonLink href="/jobs">All jobs</ButtonLink>}
      />
      <FieldPair>
        <SelectField
          label="Built"
          value={asked.standard}
          choices={STANDARDS}
          onChange={(standard: BuildStandard) => onAsk({ ...asked, standard })}
        />
        <SelectField label="Asked for" value={asked.lines} choices={LINES} onChange={(lines) => onAsk({ ...asked, lines })} />
        <SelectField
          label="What may be used again"
          value={asked.own}
          choices={OWN}
          onChange={(own) => onAsk({ ...asked, own })}
          note="whether it is fit shows only at strip-down"
        />
        <SelectField
          label="Other cores in the yard"
          value={asked.donors}
          choices={DONORS}
          onChange={(donors) => onAsk({ ...asked, donors })}
          note="a core that is built on is never broken"
        />
      </FieldPair>
      {answer.isPending && <Waiting>Reckoning the most that can be built …</Waiting>}
      {answer.isError && <Failure error={answer.error} word="Not reckoned" />}
      {answer.data !== undefined &&
        (answer.data.types.length === 0 ? (
          <Empty title="Nothing to reckon">{answer.data.words} Identify the cores, and give their types a parts list.</Empty>
        ) : (
          <Section title={`${answer.data.total} in all`} aside="exact, of all ways to share the stock out">
            <p>{answer.data.words}</p>
            <Table
              caption="What could be built, by unit type"
              columns={COLUMNS}
              rows={answer.data.types}
              rowKey={({ unitType }) => unitType.id}
            />
            {answer.data.donors !== null && <Donors donors={answer.data.donors} />}
            <CautionLine>
              A core that looks whole may not be. What its parts are worth is known when they were looked at, by the maker’s
              manual and qualified people.
            </CautionLine>
          </Section>
        ))}
    </>
  );
}

const BROKEN: readonly Column<BrokenCores>[] = [
  {
    key: 'type',
    head: 'unit type',
    isLead: true,
    width: '22%',
    cell: ({ unitType }) => <Go href={`/stores/yields?type=${unitType.id}`}>{unitType.name}</Go>,
  },
  { key: 'units', head: 'cores, longest in the books first', isWide: true, cell: ({ units }) => <Units units={units} /> },
  {
    key: 'gives',
    head: 'together at least',
    isWide: true,
    cell: ({ gives }) =>
      gives
        .map(({ part, pieces }) => `${pieces} of ${part.number === '' ? part.name : `${part.number}, ${part.name}`}`)
        .join('; '),
  },
];

/** The cores that the plan breaks; nothing of it has happened. */
function Donors({ donors }: { readonly donors: OnDonors }) {
  return (
    <Section title="What rests on cores not yet stripped">
      <p>{donors.words}</p>
      {donors.broken.length > 0 && (
        <Table
          caption="Cores that would be broken"
          columns={BROKEN}
          rows={donors.broken}
          rowKey={({ unitType }) => unitType.id}
        />
      )}
      <Fold summary="What is counted on">
        <p>
          Of one component that many as come out good with 90 % confidence, by what was looked at in units of the type, whatever
          their grade: the sure number, not the mean, for half the time the mean is not reached. It is a whole number for one
          core, for two together, and so on, so the plan is exact. Each component is reckoned by itself: that all of them come out
          at once is less sure. Nothing is counted on where fewer than five were looked at, nor of rubber. Only cores that are
          ours, whole, not stripped, on no job and promised to nobody are broken, twelve of a type at the most; which of them is
          for you to say.
        </p>
      </Fold>
    </Section>
  );
}

function Units({ units }: { readonly units: BrokenCores['units'] }) {
  return (
    <>
      {units.map((unit, index) => (
        <span key={unit.id}>
          {index > 0 && ', '}
          <Go href={`/stores/things/${unit.id}`}>
            <Code code={unit.code} />
          </Go>
        </span>
      ))}
    </>
  );
}

function Stops({ type }: { readonly type: BuildableType }) {
  const { cores, parts } = type.lacking;
  return (
    <>
      {cores > 0 && (
        <>
          {cores === 1 ? 'a core' : `${cores} cores`}
          {parts.length > 0 && ', and '}
        </>
      )}
      {parts.map(({ part, quantity, unitOfMeasure }, index) => (
        <span key={part.id}>
          {index > 0 && '; '}
          {quantity}
          {unitOfMeasure === 'each' ? '' : ` ${unitOfMeasure}`} of{' '}
          <Go href={`/stores/parts/${part.id}`}>{part.number === '' ? part.name : `${part.number}, ${part.name}`}</Go>
        </span>
      ))}
    </>
  );
}
