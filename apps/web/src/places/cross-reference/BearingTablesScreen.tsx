import type {
  BearingDimensions,
  OwnDimensions,
  StrikeDimensions,
  StrikeSuffix,
  SuffixShown,
} from '@corewright/contracts/bearings';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useKeepsBooks } from '../../api/session.js';
import { Acts, Button } from '../../ui/Button.js';
import { Waiting } from '../../ui/Empty.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead, Section } from '../../ui/Section.js';
import { type Column, Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import { WhyForm } from '../../ui/WhyForm.js';
import { Dimensions, sayMm } from './BearingParts.js';
import styles from './Bearings.module.css';
import { tablesQuery } from './bearing-queries.js';
import { CrossReferencePages } from './CrossReferencePages.js';
import { KeepBearingForm } from './KeepBearingForm.js';
import { KeepSuffixForm } from './KeepSuffixForm.js';
import { aspectWords } from './suffix-words.js';
import { useTableChange } from './table-actions.js';

/** The tables that bearings are read by: the workshop's own rows to edit, those that came with the program to read. */
export function BearingTablesScreen() {
  const [beginning, setBeginning] = useState('');
  const mayChange = useKeepsBooks();
  const tables = useQuery({ ...tablesQuery(beginning.trim()), placeholderData: (before) => before });
  return (
    <>
      <PageHead title="Cross-reference" note="What it is, and what else will serve." />
      <CrossReferencePages />
      {tables.isPending && <Waiting>Fetching the tables …</Waiting>}
      {tables.isError && <Failure error={tables.error} word="Not shown" />}
      {tables.data !== undefined && (
        <>
          <OwnBearings rows={tables.data.own} mayChange={mayChange} />
          <Suffixes rows={tables.data.suffixes} mayChange={mayChange} />
          <Section title="Bearings that came with the program" aside="read only, each with its source">
            <div className={styles.stack}>
              <TextField
                label="Number begins with"
                type="search"
                value={beginning}
                onChange={setBeginning}
                note="620, NU 3, LM119"
                maxLength={60}
              />
              {tables.data.shipped.length > 0 && (
                <Table
                  caption="Bearings that came with the program"
                  columns={SHIPPED}
                  rows={tables.data.shipped}
                  rowKey={(row) => row.designation}
                />
              )}
            </div>
          </Section>
        </>
      )}
    </>
  );
}

const FIGURES: readonly Column<BearingDimensions>[] = [
  { key: 'number', head: 'number', isLead: true, cell: (row) => <b>{row.designation}</b> },
  { key: 'type', head: 'what it is', cell: (row) => row.type },
  { key: 'figures', head: 'bore, outside, width', isWide: true, cell: (row) => <Dimensions of={row} /> },
  {
    key: 'chamfer',
    head: 'least chamfer',
    cell: (row) => (row.chamferMinMm === null ? 'not known' : `${sayMm(row.chamferMinMm)} mm`),
  },
];
const SHIPPED: readonly Column<BearingDimensions>[] = [
  ...FIGURES,
  { key: 'source', head: 'source', isWide: true, cell: (row) => row.source },
];

/** What is being done to a row: keyed anew (null is a new one), or struck out. */
type Doing<Row> = { readonly act: 'keep'; readonly row: Row | null } | { readonly act: 'strike'; readonly row: Row };

interface OwnTableProps<Row> {
  readonly rows: readonly Row[];
  readonly mayChange: boolean;
}

function OwnBearings({ rows, mayChange }: OwnTableProps<OwnDimensions>) {
  const [doing, setDoing] = useState<Doing<OwnDimensions> | null>(null);
  const close = () => setDoing(null);
  const strike = useTableChange<StrikeDimensions>('dimensions/strike', close);
  const columns: readonly Column<OwnDimensions>[] = [
    ...FIGURES,
    { key: 'source', head: 'source, keyed by', isWide: true, cell: (row) => <Sourced row={row} /> },
  ];
  const acts: Column<OwnDimensions> = {
    key: 'acts',
    head: 'change',
    isWide: true,
    cell: (row) => <RowActs name={row.designation} row={row} onDo={setDoing} />,
  };
  return (
    <Section title="Our own bearings" aside={`${rows.length}`}>
      <div className={styles.stack}>
        {rows.length === 0 ? (
          <p className="quiet">None yet. What the tables lack, or have wrong, is keyed here.</p>
        ) : (
          <Table
            caption="Our own bearings"
            columns={mayChange ? [...columns, acts] : columns}
            rows={rows}
            rowKey={(row) => row.designation}
          />
        )}
        {doing === null && mayChange && (
          <Acts>
            <Button onPress={() => setDoing({ act: 'keep', row: null })}>Key a bearing</Button>
          </Acts>
        )}
        {doing?.act === 'keep' && <KeepBearingForm key={doing.row?.designation ?? ''} row={doing.row} onClose={close} />}
        {doing?.act === 'strike' && (
          <StrikeForm
            name={doing.row.designation}
            strike={strike}
            onWhy={(why) => strike.mutate({ designation: doing.row.designation, why })}
            onClose={close}
          />
        )}
      </div>
    </Section>
  );
}

function Suffixes({ rows, mayChange }: OwnTableProps<SuffixShown>) {
  const [doing, setDoing] = useState<Doing<SuffixShown> | null>(null);
  const close = () => setDoing(null);
  const strike = useTableChange<StrikeSuffix>('suffixes/strike', close);
  const columns: readonly Column<SuffixShown>[] = [
    { key: 'suffix', head: 'suffix', isLead: true, cell: (row) => <b>{row.suffix}</b> },
    { key: 'maker', head: 'whose', cell: (row) => (row.maker === '' ? 'several makers' : row.maker) },
    { key: 'aspect', head: 'tells of', cell: (row) => aspectWords[row.aspect as keyof typeof aspectWords] },
    {
      key: 'value',
      head: 'means',
      isWide: true,
      cell: (row) => (row.value === row.words ? row.words : `${row.value}: ${row.words}`),
    },
    { key: 'source', head: 'source, keyed by', isWide: true, cell: (row) => <Sourced row={row} /> },
  ];
  const acts: Column<SuffixShown> = {
    key: 'acts',
    head: 'change',
    isWide: true,
    cell: (row) =>
      row.shipped ? (
        <span className="quiet">came with the program</span>
      ) : (
        <RowActs name={row.suffix} row={row} onDo={setDoing} />
      ),
  };
  return (
    <Section title="Makers’ suffixes" aside={`${rows.length}; those of the standard are not listed`}>
      <div className={styles.stack}>
        <Table
          caption="Makers’ suffixes"
          columns={mayChange ? [...columns, acts] : columns}
          rows={rows}
          rowKey={(row) => `${row.maker}|${row.suffix}`}
        />
        {doing === null && mayChange && (
          <Acts>
            <Button onPress={() => setDoing({ act: 'keep', row: null })}>Key a suffix</Button>
          </Acts>
        )}
        {doing?.act === 'keep' && (
          <KeepSuffixForm key={`${doing.row?.maker}|${doing.row?.suffix}`} row={doing.row} onClose={close} />
        )}
        {doing?.act === 'strike' && (
          <StrikeForm
            name={doing.row.suffix}
            strike={strike}
            onWhy={(why) => strike.mutate({ maker: doing.row.maker, suffix: doing.row.suffix, why })}
            onClose={close}
          />
        )}
      </div>
    </Section>
  );
}

function Sourced({ row }: { readonly row: Pick<OwnDimensions, 'source' | 'by' | 'contradictions'> }) {
  return (
    <span>
      {row.source}
      {row.by !== '' && <span className="quiet">, {row.by}</span>}
      {row.contradictions.map((words) => (
        <span key={words} className={styles.bad}>
          {' '}
          {words}
        </span>
      ))}
    </span>
  );
}

interface RowActsProps<Row> {
  readonly name: string;
  readonly row: Row;
  readonly onDo: (doing: Doing<Row>) => void;
}

function RowActs<Row>({ name, row, onDo }: RowActsProps<Row>) {
  return (
    <Acts>
      <Button look="plain" label={`Change ${name}`} onPress={() => onDo({ act: 'keep', row })}>
        Change
      </Button>
      <Button look="plain" label={`Strike out ${name}`} onPress={() => onDo({ act: 'strike', row })}>
        Strike out
      </Button>
    </Acts>
  );
}

interface StrikeFormProps {
  readonly name: string;
  readonly strike: { readonly isPending: boolean; readonly error: Error | null };
  readonly onWhy: (why: string) => void;
  readonly onClose: () => void;
}

function StrikeForm({ name, strike, onWhy, onClose }: StrikeFormProps) {
  return (
    <WhyForm
      label={`Strike out ${name}`}
      question={`Why ${name} is struck out`}
      note="it stays in the log with your name; a row that came with the program comes back in its place"
      act="Strike it out"
      isGrave
      failed="Not struck out"
      sending={strike}
      onWhy={onWhy}
      onClose={onClose}
    />
  );
}
