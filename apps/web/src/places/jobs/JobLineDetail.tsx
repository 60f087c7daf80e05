import type { CoveredLine } from '@corewright/contracts/coverage';
import type { JobCard } from '@corewright/contracts/jobs';
import { useState } from 'react';
import { useKeepsBooks } from '../../api/session.js';
import { Acts, Button, ButtonLink } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { FieldPair, Form } from '../../ui/Form.js';
import { Go } from '../../ui/Go.js';
import { Failure } from '../../ui/Problem.js';
import { QuantityField } from '../../ui/QuantityField.js';
import { sayInstantFully } from '../../ui/say-when.js';
import { TextField } from '../../ui/TextField.js';
import { WhyForm } from '../../ui/WhyForm.js';
import { useJobChange } from './actions.js';
import styles from './JobLines.module.css';
import { ReservationsOfLine } from './ReservationsOfLine.js';
import { ReserveForm } from './ReserveForm.js';
import { Substitutes } from './Substitutes.js';
import { ToFetch } from './ToFetch.js';
import { toReserve } from './to-reserve.js';

export interface JobLineDetailProps {
  readonly jobId: string;
  readonly state: JobCard['state'];
  readonly line: CoveredLine;
  readonly canDecide: boolean;
}

/** What stands behind a line: what was looked for, what was fitted by whom and on what word; and what can be decided. */
export function JobLineDetail({ jobId, state, line, canDecide }: JobLineDetailProps) {
  const mayWaive = useKeepsBooks();
  const [doing, setDoing] = useState<'finding' | 'waive' | 'reserve' | null>(null);
  const free = toReserve(line);
  return (
    <div className={styles.detail}>
      {line.looked.length > 0 && (
        <div>
          <p className={styles.subhead}>Looked for</p>
          <ul className={styles.list}>
            {line.looked.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </div>
      )}
      {canDecide && <ToFetch line={line} />}
      <ReservationsOfLine jobId={jobId} line={line} canDecide={canDecide} />
      {line.fittedFrom.length > 0 && (
        <div>
          <p className={styles.subhead}>In the unit</p>
          <ul className={styles.list}>
            {line.fittedFrom.map((fitting) => (
              <li key={fitting.fittingId}>
                {fitting.quantity} of{' '}
                <Go href={`/stores/things/${fitting.thing.id}`}>
                  <Code code={fitting.thing.code} />
                </Go>{' '}
                {fitting.thing.name}, {sayInstantFully(fitting.at)}, {fitting.by}
                {fitting.inPlaceOf && (
                  <>
                    ; fitted in place of line {line.lineNo}:{' '}
                    {[fitting.why, fitting.evidence].filter((words) => words !== null && words !== '').join('; ')}
                  </>
                )}
                {fitting.override !== null && (
                  <>
                    ; <b>against the rule</b>, {fitting.override}
                  </>
                )}
              </li>
            ))}
          </ul>
        </div>
      )}
      <Substitutes jobId={jobId} line={line} canDecide={canDecide} />
      {isBare(line) && <p className="quiet">Nothing more is known of this line.</p>}
      {doing === 'finding' && <FindingForm jobId={jobId} line={line} onClose={() => setDoing(null)} />}
      {doing === 'waive' && <WaiveForm jobId={jobId} line={line} onClose={() => setDoing(null)} />}
      {doing === 'reserve' && (
        <ReserveForm
          jobId={jobId}
          state={state}
          lines={free}
          act={`Reserve for line ${line.lineNo}`}
          onClose={() => setDoing(null)}
        />
      )}
      {doing === null && canDecide && (
        <Acts>
          {free.length > 0 && <Button onPress={() => setDoing('reserve')}>Reserve it</Button>}
          {line.reusable && <Button onPress={() => setDoing('finding')}>Say what was found in this unit</Button>}
          <ButtonLink href={`/jobs/${jobId}/lines/${line.id}/instead`}>Find or accept another part in its place</ButtonLink>
          {mayWaive && <Button onPress={() => setDoing('waive')}>Do without it</Button>}
        </Acts>
      )}
    </div>
  );
}

function isBare({ looked, elsewhere, fittedFrom, substitutes, shares }: CoveredLine): boolean {
  const isKnown = shares.some(({ state, reservation }) => reservation !== null || state === 'free in stores');
  return !isKnown && [looked, elsewhere, fittedFrom, substitutes].every((each) => each.length === 0);
}

interface DecisionProps {
  readonly jobId: string;
  readonly line: CoveredLine;
  readonly onClose: () => void;
}

function FindingForm({ jobId, line, onClose }: DecisionProps) {
  const change = useJobChange(jobId, onClose);
  const [reused, setReused] = useState('0');
  const [replaced, setReplaced] = useState('0');
  const [words, setWords] = useState('');
  return (
    <Form
      label={`What was found on line ${line.lineNo}`}
      onSubmit={() =>
        change.mutate({
          kind: 'finding',
          lineId: line.id,
          version: line.version,
          quantityReused: reused,
          quantityReplaced: replaced,
          words,
        })
      }
    >
      <FieldPair>
        <QuantityField label="Can be used again" value={reused} onChange={setReused} unit={line.part.unitOfMeasure} autoFocus />
        <QuantityField label="Must be replaced" value={replaced} onChange={setReplaced} unit={line.part.unitOfMeasure} />
      </FieldPair>
      <TextField
        label="What was seen"
        value={words}
        onChange={setWords}
        note="scored, brinelled, cracked, threads good …"
        maxLength={200}
      />
      {change.isError && <Failure error={change.error} kept="What you keyed is kept." />}
      <Acts>
        <Button look="main" type="submit" isPending={change.isPending}>
          Keep it on the record
        </Button>
        <Button look="plain" onPress={onClose}>
          Leave it
        </Button>
      </Acts>
    </Form>
  );
}

function WaiveForm({ jobId, line, onClose }: DecisionProps) {
  const change = useJobChange(jobId, onClose);
  return (
    <WhyForm
      label={`Do without line ${line.lineNo}`}
      question="Why the job does without it"
      note="it stays on the record with your name, and on paper"
      act={`Do without line ${line.lineNo}`}
      isGrave
      failed="Not waived"
      sending={change}
      onWhy={(reason) => change.mutate({ kind: 'waive', lineId: line.id, version: line.version, reason })}
      onClose={onClose}
    />
  );
}
