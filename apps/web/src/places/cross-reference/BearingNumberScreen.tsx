import type { BearingRead, BearingsCompared } from '@corewright/contracts/bearings';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { Acts, Button } from '../../ui/Button.js';
import { CautionLine } from '../../ui/CautionLine.js';
import { Waiting } from '../../ui/Empty.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Failure } from '../../ui/Problem.js';
import { PageHead, Section } from '../../ui/Section.js';
import { Table } from '../../ui/Table.js';
import { TextField } from '../../ui/TextField.js';
import { type Fact, TitleBlock } from '../../ui/TitleBlock.js';
import { AcceptForJob } from './AcceptForJob.js';
import { Dimensions, InStores, isFromMemory, sayMm } from './BearingParts.js';
import styles from './Bearings.module.css';
import { bearingQuery, comparedQuery } from './bearing-queries.js';
import { CrossReferencePages } from './CrossReferencePages.js';

export interface BearingNumberScreenProps {
  readonly wanted: string;
  readonly other: string;
  readonly onAsk: (wanted: string, other: string) => void;
}

/** What the number on a bearing says; and, with a second one, whether that may go in its place. */
export function BearingNumberScreen({ wanted, other, onAsk }: BearingNumberScreenProps) {
  const [first, setFirst] = useState(wanted);
  const [second, setSecond] = useState(other);
  return (
    <>
      <PageHead title="Cross-reference" note="What it is, and what else will serve." />
      <CrossReferencePages />
      <Section title="A bearing by its number">
        <Form label="A bearing by its number" onSubmit={() => onAsk(first.trim(), second.trim())}>
          <FieldPair>
            <TextField
              label="Number on the bearing"
              value={first}
              onChange={setFirst}
              maxLength={60}
              autoFocus
              note="as marked, suffixes too: 6311-2RS C3, NU 310, 30206, LM11949/LM11910"
            />
            <TextField
              label="Compare with"
              value={second}
              onChange={setSecond}
              maxLength={60}
              note="the one that might go in its place; may stay empty"
            />
          </FieldPair>
          <Acts>
            <Button type="submit" look="main">
              Look it up
            </Button>
          </Acts>
        </Form>
      </Section>
      {wanted !== '' && (other === '' ? <OneBearing designation={wanted} /> : <Two wanted={wanted} other={other} />)}
    </>
  );
}

function OneBearing({ designation }: { readonly designation: string }) {
  const found = useQuery(bearingQuery(designation));
  if (found.isPending) return <Waiting>Looking up {designation} …</Waiting>;
  if (found.data === undefined) return <Failure word="Not read" error={found.error} />;
  return <Known bearing={found.data} />;
}

function Known({ bearing }: { readonly bearing: BearingRead }) {
  const { reading, dimensions, contradictions, belongsTo } = bearing;
  return (
    <Section title={reading.asGiven} aside={reading.type ?? 'not known what it is'}>
      <div className={styles.stack}>
        <TitleBlock facts={factsOf(bearing)} />
        {reading.stopped !== null && (
          <p>
            <b>
              Read as far as “{reading.asGiven.slice(0, reading.stopped.at)}”; “{reading.stopped.rest.trim()}” is not known.
            </b>{' '}
            {reading.stopped.why}
          </p>
        )}
        {contradictions.map((words) => (
          <p key={words} className={styles.bad}>
            {words}
          </p>
        ))}
        {reading.notes.map((words) => (
          <p key={words}>{words}</p>
        ))}
        {reading.suffixes.length > 0 && (
          <ul>
            {reading.suffixes.map((suffix) => (
              <li key={suffix.suffix}>
                <b>{suffix.suffix}</b>: {suffix.words} <span className="quiet">({suffix.source})</span>
              </li>
            ))}
          </ul>
        )}
        {belongsTo.length > 0 && (
          <>
            <p>
              <b>A half.</b> It goes with its other half as:
            </p>
            <ul>
              {belongsTo.map((whole) => (
                <li key={whole.designation}>
                  <b>{whole.designation}</b> <Dimensions of={whole} />
                </li>
              ))}
            </ul>
          </>
        )}
        {dimensions !== null && isFromMemory(dimensions) && (
          <p>These dimensions are from memory: measure before you rely on them.</p>
        )}
      </div>
    </Section>
  );
}

function factsOf({ reading, dimensions, stores }: BearingRead): readonly Fact[] {
  return [
    {
      label: 'Bore',
      value:
        reading.boreMm === null && dimensions === null ? 'not known' : `${sayMm(dimensions?.boreMm ?? reading.boreMm ?? 0)} mm`,
    },
    {
      label: 'Bore, outside, width',
      value: dimensions === null ? 'not in the table' : <Dimensions of={dimensions} />,
      note:
        dimensions === null
          ? 'Measure it: the table does not hold this number.'
          : dimensions.chamferMinMm === null
            ? 'chamfer not known'
            : `chamfer at least ${sayMm(dimensions.chamferMinMm)} mm`,
    },
    { label: 'In stores', value: <InStores parts={stores} /> },
  ];
}

const verdictWords: Readonly<Record<BearingsCompared['verdict'], string>> = {
  'drop-in': 'The same in all that is known',
  'with care': 'May serve, with care',
  no: 'No',
};

function Two({ wanted, other }: { readonly wanted: string; readonly other: string }) {
  const found = useQuery(comparedQuery(wanted, other));
  if (found.isPending)
    return (
      <Waiting>
        Comparing {wanted} with {other} …
      </Waiting>
    );
  if (found.data === undefined) return <Failure word="Not compared" error={found.error} />;
  const { verdict, sentence, points, caution } = found.data;
  return (
    <>
      <Section title={verdictWords[verdict]} aside={`${other} in place of ${wanted}`}>
        <div className={styles.stack}>
          <p className="read">{sentence}</p>
          <Table
            caption={`${other} in place of ${wanted}, point by point`}
            rows={points}
            rowKey={(point) => point.point}
            columns={[
              { key: 'point', head: 'point', isLead: true, cell: (point) => <b>{point.point}</b> },
              {
                key: 'answer',
                head: 'answer',
                cell: (point) => (
                  <span className={point.answer === 'no' ? styles.bad : point.answer === 'unknown' ? styles.unknown : undefined}>
                    {point.answer}
                  </span>
                ),
              },
              { key: 'reason', head: 'why', isWide: true, cell: (point) => point.reason },
            ]}
          />
          <CautionLine>{caution}</CautionLine>
        </div>
      </Section>
      <AcceptForJob wanted={found.data.wanted} other={found.data.other} />
      <div className={styles.two}>
        <Known bearing={found.data.wanted} />
        <Known bearing={found.data.other} />
      </div>
    </>
  );
}
