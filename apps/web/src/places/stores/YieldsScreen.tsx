import type { ComponentYieldShown, YieldChoices, Yields } from '@corewright/contracts/yields';
import { useQuery } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { CautionLine } from '../../ui/CautionLine.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Fold } from '../../ui/Fold.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { RangePlot } from '../../ui/RangePlot.js';
import { PageHead, Section } from '../../ui/Section.js';
import { type Choice, SelectField } from '../../ui/SelectField.js';
import { type Column, Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import { yieldChoicesQuery, yieldsQuery } from './yield-queries.js';
import type { YieldsAsked } from './yields-asked.js';

export interface YieldsScreenProps {
  readonly asked: YieldsAsked;
  readonly onAsk: (asked: YieldsAsked) => void;
}

/** What has come out of cores so far: how often each component was serviceable, and how many cores to buy for one that is. */
export function YieldsScreen({ asked, onAsk }: YieldsScreenProps) {
  const answer = useQuery(yieldsQuery(asked));
  const choices = useQuery(yieldChoicesQuery);
  return (
    <>
      <PageHead
        title="What cores have given"
        note="How often each component was serviceable when its unit was taken apart, of those that somebody looked at."
        acts={<ButtonLink href="/stores">All of Stores</ButtonLink>}
      />
      {choices.data !== undefined && <Asked asked={asked} choices={choices.data} onAsk={onAsk} />}
      {answer.isPending && <Waiting>Counting what came out …</Waiting>}
      {answer.isError && <Failure error={answer.error} word="Not counted" />}
      {answer.data !== undefined && <Answer yields={answer.data} isOfOneType={asked.type !== ''} />}
    </>
  );
}

const oneOfNamed = (all: string, named: readonly { id: string; name: string }[], chosen: string): Choice<string>[] => [
  { value: '', label: all },
  ...named.map(({ id, name }) => ({ value: id, label: name })),
  // an address may name what nothing has come out of yet
  ...(chosen === '' || named.some(({ id }) => id === chosen) ? [] : [{ value: chosen, label: 'the one in the address' }]),
];

function Asked({ asked, choices, onAsk }: YieldsScreenProps & { readonly choices: YieldChoices }) {
  const [wanted, setWanted] = useState(asked.wanted);
  useEffect(() => setWanted(asked.wanted), [asked.wanted]);
  const grades = choices.grades.map((grade) => ({ id: grade, name: grade }));
  return (
    <Form label="What is asked about" onSubmit={() => onAsk({ ...asked, wanted: wanted.trim() === '' ? '1' : wanted.trim() })}>
      <FieldPair>
        <SelectField
          label="Unit type"
          value={asked.type}
          choices={oneOfNamed('all types', choices.unitTypes, asked.type)}
          onChange={(type) => onAsk({ ...asked, type })}
        />
        <SelectField
          label="Grade of the core"
          value={asked.grade}
          choices={oneOfNamed('all grades', grades, asked.grade)}
          onChange={(grade) => onAsk({ ...asked, grade })}
        />
        <SelectField
          label="Load"
          value={asked.load}
          choices={oneOfNamed('all loads', choices.loads, asked.load)}
          onChange={(load) => onAsk({ ...asked, load })}
        />
        <SelectField
          label="Bought from"
          value={asked.seller}
          choices={oneOfNamed('all sellers', choices.sellers, asked.seller)}
          onChange={(seller) => onAsk({ ...asked, seller })}
        />
        <TextField
          label="Good ones wanted"
          inputMode="numeric"
          value={wanted}
          onChange={setWanted}
          note="1 to 100; for so many the cores to buy are reckoned"
        />
      </FieldPair>
      <Acts>
        <Button type="submit" look="main">
          Reckon it
        </Button>
      </Acts>
    </Form>
  );
}

function Answer({ yields, isOfOneType }: { readonly yields: Yields; readonly isOfOneType: boolean }) {
  const { components, stripDowns, wanted, more } = yields;
  const units = stripDowns === 1 ? '1 strip-down' : `${stripDowns} strip-downs`;
  if (components.length === 0)
    return (
      <Empty title="Nothing has been looked at">
        Of these nothing has come out yet. Strip a core down from its page, and say of each component what was found.
      </Empty>
    );
  return (
    <Section title="The worst first" aside={`${units}${more ? '; only the worst are shown, choose a type' : ''}`}>
      <Table
        caption="How often each component was serviceable, the worst first"
        columns={columnsOf(wanted, isOfOneType)}
        rows={components}
        rowKey={({ unitType, position }) => `${unitType.id} ${position}`}
      />
      <HowCounted />
      <CautionLine>
        What came out of other cores says nothing sure of the next one. Whether a part may go back into service is seen on the
        part, by the maker’s manual and qualified people.
      </CautionLine>
    </Section>
  );
}

function columnsOf(wanted: number, isOfOneType: boolean): Column<ComponentYieldShown>[] {
  return [
    {
      key: 'component',
      head: 'component',
      isLead: true,
      width: '30%',
      cell: (row) => <Component row={row} isOfOneType={isOfOneType} />,
    },
    {
      key: 'counted',
      head: 'serviceable',
      isNumeric: true,
      cell: ({ serviceable, looked }) => (looked === 0 ? '' : `${serviceable} of ${looked}`),
    },
    { key: 'after', head: 'more after work', isNumeric: true, cell: ({ afterWork }) => (afterWork === 0 ? '' : afterWork) },
    { key: 'range', head: 'in 100, with 90 % confidence', isWide: true, width: '32%', cell: (row) => <Range row={row} /> },
    { key: 'cores', head: `cores to buy for ${wanted}`, isNumeric: true, cell: (row) => coresOf(row) },
  ];
}

function Component({ row, isOfOneType }: { readonly row: ComponentYieldShown; readonly isOfOneType: boolean }) {
  const { unitType, position, name, part, eachHas } = row;
  return (
    <>
      <b>
        {position} {name}
      </b>
      {eachHas > 1 && ` × ${eachHas}`}
      {!isOfOneType && <span className="quiet"> {unitType.name}</span>}
      {part !== null && (
        <>
          {' '}
          <Go href={`/stores/parts/${part.id}`}>{part.number === '' ? part.name : part.number}</Go>
        </>
      )}
    </>
  );
}

function Range({ row }: { readonly row: ComponentYieldShown }) {
  const { inHundred, enough, looked, words } = row;
  if (looked === 0) return <span className="quiet">nobody has looked at one yet</span>;
  return (
    <>
      <RangePlot label={words} {...inHundred} isVague={!enough} />
      <span aria-hidden="true" className={enough ? undefined : 'quiet'}>
        {enough ? `${inHundred.least} to ${inHundred.most}, expect ${inHundred.mean}` : 'not enough looked at to say'}
      </span>
    </>
  );
}

function coresOf({ enough, cores }: ComponentYieldShown): string {
  if (!enough) return '';
  return cores === null ? 'over 1000' : String(cores);
}

function HowCounted() {
  return (
    <Fold summary="How it is counted">
      <p>
        Serviceable is what was used again, put to stores or left in place as it came out; what needs work first stands beside it.
        What is missing, or is another thing than it should be, counts as not serviceable. What was never looked at counts in no
        yield, nor does what nobody expected, nor what is held until somebody decides. A finding that was put right counts as it
        was put right. Units of customers count too, with the type that they were stripped as and the grade that they have now.
      </p>
      <p>
        Before anything is looked at every share is held possible (Jeffreys’ prior, Beta(½, ½)). After s serviceable of n the
        share is Beta(½ + s, ½ + n − s), exactly, however few they are; the line spans the middle 90 % of it, rounded outward, and
        the mark is what to expect of the next one. Below five nothing is said. Cores to buy: so many that with 90 % confidence at
        least as many good ones come out as are wanted, with what is not known of the share reckoned in.
      </p>
      <p>
        Pieces are counted one by one, as though each came out by a chance of its own. Where whole units rust together the true
        range is wider.
      </p>
    </Fold>
  );
}
