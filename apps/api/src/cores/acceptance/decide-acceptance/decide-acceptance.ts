import type { Acceptance } from '@corewright/contracts/acceptance';
import { done, type Refusal, type Result, refused } from '../../../platform/refusal.js';

export interface DecisionFacts {
  acceptance: Pick<Acceptance, 'superseded' | 'decision' | 'unitType' | 'suggested'>;
  /** what the unit is said to be now; null where nobody knows */
  typeNow: string | null;
  asked: { grade: string; credit: string | null };
  why: string;
}

/** A person decides; where it differs from what the sheet suggests, with a reason that stays. Each sheet is decided once. Pure. */
export function decideAcceptance({ acceptance, typeNow, asked, why }: DecisionFacts): Result<null> {
  const { superseded, decision, unitType, suggested } = acceptance;
  if (superseded)
    return refused(
      refusal('superseded', 'A later sheet stands', 'Another sheet was filled in for this unit since. Decide by that one.'),
    );
  if (decision !== null)
    return refused(
      refusal(
        'decided-already',
        'It is decided',
        `${decision.by} has decided grade ${decision.grade} by this sheet, and that stays. Fill in another sheet to decide otherwise.`,
        { decision },
      ),
    );
  if (typeNow !== unitType.id)
    return refused(
      refusal(
        'another-type-now',
        'It is said to be something else',
        `This sheet was filled in for a ${unitType.name}, and the unit is said to be something else by now. Fill in the sheet of what it is.`,
      ),
    );
  const { grade, credit } = suggested.least;
  const differs = [
    ...(grade !== null && grade !== asked.grade ? [`the grade is ${asked.grade} and not ${grade}`] : []),
    ...(credit !== null && credit !== asked.credit ? ['the credit is not the one'] : []),
  ];
  if (differs.length > 0 && why === '')
    return refused(
      refusal('needs-reason', 'Say why', `It differs from what the sheet suggests: ${differs.join(', and ')}. Say why.`),
    );
  return done(null);
}

function refusal(code: string, title: string, detail: string, values?: Record<string, unknown>): Refusal {
  return { status: 409, code, title, detail: `${detail} Nothing was changed.`, ...(values && { values }) };
}
