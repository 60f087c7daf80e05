import type { AcceptSubstitute } from '@corewright/contracts/substitutes';
import { badInput, type Refusal } from '../../platform/refusal.js';
import { closedStates } from '../job.queries.js';

export interface SubstituteFacts {
  job: { state: string };
  line: { lineNo: number; partId: string; waived: boolean; unitOfMeasure: string; number: string };
  part: { id: string; number: string; unitOfMeasure: string };
  isAcceptedAlready: boolean;
  isMeasured: boolean;
  /** in what the two parts, and what was measured of the old one, are known to differ */
  differences: readonly string[];
}

/** Why a part may not be accepted in place of a line's; null when it may. */
export function whyNotAcceptable(
  asked: Pick<AcceptSubstitute, 'evidence' | 'deviation'>,
  { job, line, part, isAcceptedAlready, isMeasured, differences }: SubstituteFacts,
): Refusal | null {
  if (closedStates.includes(job.state)) return jobClosed(job.state, 'Nothing is accepted for it any more.');
  if (line.waived)
    return conflict('line-waived', 'The job does without it', `Line ${line.lineNo} is waived: nothing is fitted there.`);
  if (line.partId === part.id)
    return badInput('partId', `Line ${line.lineNo} asks for ${part.number} itself. Choose the part that is to take its place.`);
  if (line.unitOfMeasure !== part.unitOfMeasure)
    return badInput(
      'partId',
      `Line ${line.lineNo} is counted in ${line.unitOfMeasure} and ${part.number} in ${part.unitOfMeasure}: one cannot take the place of the other.`,
    );
  if (isAcceptedAlready)
    return conflict(
      'accepted-already',
      'Accepted already',
      `${part.number} is accepted for line ${line.lineNo} already. If there is better evidence now, withdraw that first.`,
    );
  if (asked.evidence.kind === 'measured' && !isMeasured)
    return badInput('bore', 'The evidence is a measurement. Key what was measured of the old one: bore, outside or width.');
  if (differences.length > 0 && asked.deviation === '')
    return {
      ...badInput(
        'deviation',
        `${differences.join(' ')} Say in what ${part.number} differs, and what is done about it; or choose another.`,
      ),
      code: 'deviation-not-said',
      title: 'They differ',
    };
  return null;
}

export function jobClosed(state: string, soWhat: string): Refusal {
  return conflict('job-closed', 'The job is closed', `This job is ${state}. ${soWhat}`);
}

function conflict(code: string, title: string, detail: string): Refusal {
  return { status: 409, code, title, detail };
}
