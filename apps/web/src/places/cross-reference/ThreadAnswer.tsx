import type { Result } from '@corewright/quantities/result';
import type { FastenerAnswer, FastenerCandidate, MeasureRefusal } from '@corewright/standards/identify-fastener';
import { seriesFacts } from '@corewright/standards/threads';
import { CautionLine } from '../../ui/CautionLine.js';
import { Empty } from '../../ui/Empty.js';
import { Section } from '../../ui/Section.js';
import { type Column, Table } from '../../ui/Table.js';
import styles from './ThreadAnswer.module.css';

const columns: readonly Column<FastenerCandidate>[] = [
  {
    key: 'thread',
    head: 'thread',
    isLead: true,
    width: '170px',
    cell: ({ thread }) => <b className={styles.name}>{thread.name}</b>,
  },
  { key: 'sure', head: 'how sure', width: '190px', cell: (candidate) => <HowSure candidate={candidate} /> },
  { key: 'angle', head: 'flank angle', width: '110px', cell: ({ thread }) => `${thread.flankAngle}°` },
  {
    key: 'why',
    head: 'why',
    isWide: true,
    cell: ({ thread, reasons }) => (
      <span>
        {reasons.join(' ')} <span className="quiet">Figures: {seriesFacts[thread.series].source}.</span>
      </span>
    ),
  },
];

/** What fits, best first; or what to ask; or what was wrong with the figures. */
export function ThreadAnswer({ answer }: { readonly answer: Result<FastenerAnswer, MeasureRefusal> }) {
  if (!answer.ok) return <NothingFits sentences={[answer.error.sentence]} />;
  const { candidates, questions } = answer.value;
  if (candidates.length === 0) return <NothingFits sentences={questions} />;
  return (
    <Section title="It can be" aside={`${candidates.length}, the nearest first`}>
      <Table
        caption="Threads that fit, the nearest first"
        columns={columns}
        rows={candidates}
        rowKey={({ thread }) => thread.name}
      />
      <CautionLine>
        Threads of nearly equal pitch start together and then strip. Try both ways by hand, compare with a gauge or a known screw,
        and go by the maker's manual and a qualified person where a joint carries load.
      </CautionLine>
    </Section>
  );
}

/** A shape and a word: solid where one thread alone fits, hollow where the figures leave it open. */
function HowSure({ candidate }: { readonly candidate: FastenerCandidate }) {
  const word = candidate.isCertain
    ? 'this alone fits'
    : candidate.tiedWith.length > 0
      ? 'a tie: check the flanks'
      : 'open: others fit too';
  return (
    <span className={styles.sure}>
      <span className={candidate.isCertain ? styles.solid : styles.hollow} aria-hidden="true" />
      {word}
    </span>
  );
}

function NothingFits({ sentences }: { readonly sentences: readonly string[] }) {
  const otherwise = 'No thread in the tables has this diameter and pitch. Measure again over the crests, and try worn or plated.';
  return (
    <Section title="Nothing found">
      <Empty title="Look again">{sentences.length === 0 ? otherwise : sentences.join(' ')}</Empty>
    </Section>
  );
}
