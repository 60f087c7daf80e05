import type { MeasuredCandidate } from '@corewright/contracts/bearings';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { Empty, Waiting } from '../../ui/Empty.js';
import { Form } from '../../ui/Form.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead, Section } from '../../ui/Section.js';
import { Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import { Dimensions, InStores, isFromMemory } from './BearingParts.js';
import styles from './Bearings.module.css';
import { type MeasuresKeyed, measuredQuery } from './bearing-queries.js';
import { CrossReferencePages } from './CrossReferencePages.js';

export interface BearingMeasureScreenProps {
  readonly keyed: MeasuresKeyed;
  readonly onAsk: (keyed: MeasuresKeyed) => void;
}

/** Which bearing is it, by what the calliper says? */
export function BearingMeasureScreen({ keyed, onAsk }: BearingMeasureScreenProps) {
  const [bore, setBore] = useState(keyed.bore);
  const [outside, setOutside] = useState(keyed.outside);
  const [width, setWidth] = useState(keyed.width);
  const known = [keyed.bore, keyed.outside, keyed.width].filter((length) => length !== '').length;
  return (
    <>
      <PageHead title="Cross-reference" note="What it is, and what else will serve." />
      <CrossReferencePages />
      <Section title="A bearing by measurement">
        <Form
          label="A bearing by measurement"
          onSubmit={() => onAsk({ bore: bore.trim(), outside: outside.trim(), width: width.trim() })}
        >
          <div className={styles.three}>
            <TextField label="Bore" value={bore} onChange={setBore} maxLength={20} autoFocus note="31.75, 1.25 in or 1 1/4 in" />
            <TextField
              label="Outside diameter"
              value={outside}
              onChange={setOutside}
              maxLength={20}
              note="millimetres unless it says in"
            />
            <TextField label="Width" value={width} onChange={setWidth} maxLength={20} note="one of the three may stay empty" />
          </div>
          <Acts>
            <Button type="submit" look="main">
              Find it
            </Button>
          </Acts>
        </Form>
      </Section>
      {known === 1 && <p role="status">One more length is needed: by one alone there are too many.</p>}
      {known >= 2 && <Found keyed={keyed} onAsk={onAsk} />}
    </>
  );
}

function Found({ keyed, onAsk }: BearingMeasureScreenProps) {
  const found = useQuery(measuredQuery(keyed));
  if (found.isPending) return <Waiting>Looking through the table …</Waiting>;
  if (found.data === undefined) return <Failure word="Not found out" error={found.error} />;
  const { candidates, count, toleranceMm, doubt } = found.data;
  return (
    <>
      {candidates.length > 0 && (
        <Section title="Found" aside={`${count}, the nearest first; within ${toleranceMm} mm`}>
          <Candidates candidates={candidates} />
        </Section>
      )}
      {doubt !== null && (
        <Section title={doubt.question} aside={`${doubt.count} would fit then`}>
          <Candidates candidates={doubt.candidates} />
        </Section>
      )}
      {candidates.length === 0 && doubt === null && (
        <Empty
          title="Nothing in the table has these"
          choices={<Button onPress={() => onAsk({ ...keyed, width: '' })}>Leave the width out</Button>}
        >
          Within {toleranceMm} mm no bearing of the table fits. Measure again where it is not worn; it may also be a size that the
          table does not hold.
        </Empty>
      )}
    </>
  );
}

function Candidates({ candidates }: { readonly candidates: readonly MeasuredCandidate[] }) {
  return (
    <Table
      caption="Bearings that fit"
      rows={candidates}
      rowKey={({ dimensions }) => dimensions.designation}
      columns={[
        {
          key: 'designation',
          head: 'number',
          isLead: true,
          cell: ({ dimensions }) => <Named designation={dimensions.designation} />,
        },
        { key: 'type', head: 'what it is', cell: ({ dimensions }) => dimensions.type },
        { key: 'dimensions', head: 'bore, outside, width', cell: ({ dimensions }) => <Sized of={dimensions} /> },
        { key: 'off', head: 'off by', cell: ({ deviation }) => sayDeviation(deviation) },
        { key: 'stores', head: 'in stores', cell: ({ stores }) => <InStores parts={stores} /> },
      ]}
    />
  );
}

function Named({ designation }: { readonly designation: string }) {
  return <Go href={`/cross-reference/bearing?number=${encodeURIComponent(designation)}`}>{designation}</Go>;
}

function Sized({ of }: { readonly of: MeasuredCandidate['dimensions'] }) {
  return (
    <>
      <Dimensions of={of} />
      {isFromMemory(of) && <span className="quiet"> from memory</span>}
    </>
  );
}

function sayDeviation({ boreMm, outsideMm, widthMm }: MeasuredCandidate['deviation']): string {
  const said = (
    [
      ['bore', boreMm],
      ['outside', outsideMm],
      ['width', widthMm],
    ] as const
  ).flatMap(([name, off]) =>
    off === null || Math.abs(off) < 0.0005 ? [] : [`${name} ${off > 0 ? '+' : '−'}${Math.abs(off).toFixed(3)} mm`],
  );
  return said.length === 0 ? 'nothing' : said.join(', ');
}
