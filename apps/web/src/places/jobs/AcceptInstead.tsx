import type { CoveredLine } from '@corewright/contracts/coverage';
import type { JobCard } from '@corewright/contracts/jobs';
import type { MayServe, PartNamed } from '@corewright/contracts/relations';
import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import { useKeepsBooks } from '../../api/session.js';
import { Waiting } from '../../ui/Empty.js';
import { Failure } from '../../ui/Problem.js';
import { Section } from '../../ui/Section.js';
import { MayServeTable } from '../stores/MayServeTable.js';
import { mayServeQuery } from '../stores/queries.js';
import { AcceptSubstituteForm } from './AcceptSubstituteForm.js';
import { nothingKeyed, withChosen, withPart } from './substitute-keyed.js';

export interface AcceptInsteadProps {
  readonly job: JobCard;
  readonly line: CoveredLine;
  /** what was found elsewhere; null where nothing was chosen yet */
  readonly part: PartNamed | null;
  /** of the record, what bears on that part alone */
  readonly isOfPartAlone?: boolean;
  readonly onAccepted: () => void;
  readonly onClose?: () => void;
}

/** What is on the record of other parts for a line, with its evidence; and accepting one of them, for those who may. */
export function AcceptInstead({ job, line, part, isOfPartAlone = false, onAccepted, onClose }: AcceptInsteadProps) {
  const answer = useQuery({
    ...mayServeQuery(line.part.id, job.buildStandard),
    ...(isOfPartAlone && part !== null && { select: (all: MayServe) => ofPart(all, part.id) }),
  });
  const mayAccept = useKeepsBooks();
  const [keyed, setKeyed] = useState(() => (part === null ? nothingKeyed : withPart(nothingKeyed, part)));
  return (
    <>
      <Section title="On the record">
        {answer.isPending && <Waiting>Looking at what will serve …</Waiting>}
        {answer.isError && answer.data === undefined && <Failure error={answer.error} word="Not shown" />}
        {answer.data !== undefined && (
          <MayServeTable
            answer={answer.data}
            {...(mayAccept && { onChoose: (row) => setKeyed((before) => withChosen(before, row)) })}
          />
        )}
      </Section>
      {mayAccept && (
        <AcceptSubstituteForm
          jobId={job.id}
          line={line}
          keyed={keyed}
          onKeyed={setKeyed}
          onAccepted={onAccepted}
          {...(onClose !== undefined && { onClose })}
        />
      )}
    </>
  );
}

function ofPart(answer: MayServe, partId: string): MayServe {
  const isOfIt = ({ part }: { readonly part: PartNamed }) => part.id === partId;
  return { ...answer, candidates: answer.candidates.filter(isOfIt), refused: answer.refused.filter(isOfIt), complete: true };
}
