import type { CoveredLine } from '@corewright/contracts/coverage';
import type { SubstituteShown } from '@corewright/contracts/substitutes';
import { useState } from 'react';
import { useKeepsBooks } from '../../api/session.js';
import { Button } from '../../ui/Button.js';
import { Go } from '../../ui/Go.js';
import { dayOf, sayDay } from '../../ui/say-when.js';
import { WhyForm } from '../../ui/WhyForm.js';
import { useJobChange } from './actions.js';
import styles from './JobLines.module.css';

export interface SubstitutesProps {
  readonly jobId: string;
  readonly line: CoveredLine;
  readonly canDecide: boolean;
}

/** The parts that somebody accepted in place of what a line asks for, each with all that was said of it. */
export function Substitutes({ jobId, line, canDecide }: SubstitutesProps) {
  const mayWithdraw = useKeepsBooks() && canDecide;
  const [leaving, setLeaving] = useState<SubstituteShown | null>(null);
  if (line.substitutes.length === 0) return null;
  return (
    <div>
      <p className={styles.subhead}>Accepted in its place</p>
      <ul className={styles.list}>
        {line.substitutes.map((substitute) => (
          <li key={substitute.id}>
            <Go href={`/stores/parts/${substitute.part.id}`}>
              {substitute.part.number}, {substitute.part.name}
            </Go>{' '}
            {wordsOf(substitute)}{' '}
            {mayWithdraw && (
              <Button look="plain" label={`Withdraw ${substitute.part.number}`} onPress={() => setLeaving(substitute)}>
                Withdraw
              </Button>
            )}
          </li>
        ))}
      </ul>
      {leaving !== null && <Withdraw key={leaving.id} jobId={jobId} substitute={leaving} onClose={() => setLeaving(null)} />}
    </div>
  );
}

function wordsOf({ part, marking, measured, evidence, deviation, position, relationId, ...said }: SubstituteShown): string {
  return [
    part.maker === '' ? '' : `of ${part.maker}`,
    `to go to ${position}`,
    marking === '' ? '' : `the old one is marked ${marking}`,
    measured === '' ? '' : `measured ${measured}`,
    `${evidence.kind}: ${evidence.words}`,
    deviation === '' ? '' : `differs: ${deviation}`,
    relationId === null ? 'for this job alone' : 'for every job',
    `${said.acceptedBy}, ${sayDay(dayOf(said.acceptedAt))}`,
  ]
    .filter((words) => words !== '')
    .join('; ');
}

interface WithdrawProps {
  readonly jobId: string;
  readonly substitute: SubstituteShown;
  readonly onClose: () => void;
}

function Withdraw({ jobId, substitute, onClose }: WithdrawProps) {
  const change = useJobChange(jobId, onClose);
  return (
    <WhyForm
      label={`Withdraw ${substitute.part.number}`}
      question="Why it is withdrawn"
      note={
        substitute.relationId === null
          ? 'it stays on the record with your name'
          : 'for this line only: what holds for every job is withdrawn on the part’s page'
      }
      act="Withdraw it"
      failed="Not withdrawn"
      sending={change}
      onWhy={(why) => change.mutate({ kind: 'withdraw-substitute', id: substitute.id, why })}
      onClose={onClose}
    />
  );
}
