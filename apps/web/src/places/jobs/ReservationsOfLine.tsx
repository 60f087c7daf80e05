import type { CoveredLine, CoverShare, Elsewhere } from '@corewright/contracts/coverage';
import { type Decimal, decimalFrom, formatDecimal, lesserDecimal, sumDecimals } from '@corewright/quantities/decimal';
import { useState } from 'react';
import { useKeepsBooks } from '../../api/session.js';
import { Button } from '../../ui/Button.js';
import { Code } from '../../ui/Code.js';
import { Go } from '../../ui/Go.js';
import { sayDay } from '../../ui/say-when.js';
import { WhyForm } from '../../ui/WhyForm.js';
import { useJobChange } from './actions.js';
import { GoesBefore } from './GoesBefore.js';
import styles from './JobLines.module.css';
import { takenBy } from './to-reserve.js';

export interface ReservationsOfLineProps {
  readonly jobId: string;
  readonly line: CoveredLine;
  readonly canDecide: boolean;
}

/** What a line has reserved, to be released; and which other jobs have what it could use, from whom it can be taken with a reason. */
export function ReservationsOfLine({ jobId, line, canDecide }: ReservationsOfLineProps) {
  const [doing, setDoing] = useState<{ release: CoverShare } | { take: Elsewhere } | null>(null);
  const mayTake = useKeepsBooks() && canDecide;
  const reserved = line.shares.filter(({ reservation }) => reservation !== null);
  return (
    <>
      {reserved.length > 0 && (
        <div>
          <p className={styles.subhead}>Reserved for this line</p>
          <ul className={styles.list}>
            {reserved.map((share) => (
              <li key={share.reservation?.claimId ?? share.reservation?.expectedClaimId}>
                {share.quantity}: {share.on === null ? share.words : <ThingLink on={share.on} />}{' '}
                {share.reservation?.until != null && <>until {sayDay(share.reservation.until)} </>}
                {canDecide && (
                  <Button look="plain" label={`Release ${nameOf(share)}`} onPress={() => setDoing({ release: share })}>
                    Release
                  </Button>
                )}
              </li>
            ))}
          </ul>
        </div>
      )}
      {line.elsewhere.length > 0 && (
        <div>
          <p className={styles.subhead}>Other jobs have</p>
          <ul className={styles.list}>
            {line.elsewhere.map((other) => (
              <li key={`${other.job.id} ${other.thing?.id ?? other.receiptId} ${other.how}`}>
                {other.quantity}, {other.job.name}, <GoesBefore elsewhere={other} />{' '}
                {mayTake && takenBy(other) !== null && (
                  <Button look="plain" label={`Take it from ${other.job.name}`} onPress={() => setDoing({ take: other })}>
                    Take it
                  </Button>
                )}
              </li>
            ))}
          </ul>
        </div>
      )}
      {doing !== null && 'release' in doing && <Release jobId={jobId} share={doing.release} onClose={() => setDoing(null)} />}
      {doing !== null && 'take' in doing && <Take jobId={jobId} line={line} other={doing.take} onClose={() => setDoing(null)} />}
    </>
  );
}

function ThingLink({ on }: { readonly on: NonNullable<CoverShare['on']> }) {
  return (
    <Go href={`/stores/things/${on.id}`}>
      <Code code={on.code} />
    </Go>
  );
}

function nameOf({ on, words }: CoverShare): string {
  return on?.code ?? words;
}

interface ReleaseProps {
  readonly jobId: string;
  readonly share: CoverShare;
  readonly onClose: () => void;
}

function Release({ jobId, share, onClose }: ReleaseProps) {
  const change = useJobChange(jobId, onClose);
  const { reservation } = share;
  if (reservation === null) return null;
  return (
    <WhyForm
      label={`Release ${nameOf(share)}`}
      question="Why it is released"
      note="it stays on the record; what is released is free for every job"
      act="Release it"
      failed="Not released"
      sending={change}
      onWhy={(reason) => change.mutate({ kind: 'release', reservation, reason })}
      onClose={onClose}
    />
  );
}

interface TakeProps {
  readonly jobId: string;
  readonly line: CoveredLine;
  readonly other: Elsewhere;
  readonly onClose: () => void;
}

function Take({ jobId, line, other, onClose }: TakeProps) {
  const change = useJobChange(jobId, onClose);
  const on = takenBy(other);
  if (on === null) return null;
  const quantity = formatDecimal(lesserDecimal(decimalFrom(other.quantity), wantedBy(line)));
  return (
    <WhyForm
      label={`Take it from ${other.job.name}`}
      question={`Why ${other.job.name} has to wait`}
      note="it stays on the record of both jobs with your name, and that job is warned"
      act={`Take ${quantity}`}
      isGrave
      failed="Not taken"
      sending={change}
      onWhy={(reason) => change.mutate({ kind: 'take', on, fromJobId: other.job.id, lineId: line.id, quantity, reason })}
      onClose={onClose}
    />
  );
}

/** What the line does not have in hand. */
function wantedBy({ shares }: CoveredLine): Decimal {
  const inHand = ['fitted', 're-used', 'picked', 'reserved'];
  return sumDecimals(shares.filter(({ state }) => !inHand.includes(state)).map(({ quantity }) => decimalFrom(quantity)));
}
