import type { OfferHere } from '@corewright/contracts/pick-list';
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useKeepsBooks } from '../../../api/session.js';
import { useNetwork } from '../../../api/use-queue.js';
import { Button } from '../../../ui/Button.js';
import { Waiting } from '../../../ui/Empty.js';
import { Failure } from '../../../ui/Problem.js';
import { AcceptInstead } from '../AcceptInstead.js';
import { jobQuery } from '../queries.js';
import styles from './PickList.module.css';
import { pickListsKey } from './queries.js';

export interface AcceptAtStopProps {
  readonly offer: OfferHere;
  /** the names of those who may accept it */
  readonly mayAccept: readonly string[];
  /** it is accepted, and the list says so already */
  readonly onAccepted: () => void;
}

/** Somebody stands before what would go in another part's place: they accept it here and go on, or read whom to ask. */
export function AcceptAtStop({ offer, mayAccept, onAccepted }: AcceptAtStopProps) {
  const [isOpen, setOpen] = useState(false);
  const keepsBooks = useKeepsBooks();
  const { instead, lineNo } = offer;
  if (!keepsBooks)
    return (
      <span>
        {mayAccept.length === 0 ? 'Whoever keeps the books may accept it.' : `It may be accepted by ${anyOf(mayAccept)}.`}
      </span>
    );
  if (isOpen) return <Accepting offer={offer} onAccepted={onAccepted} onClose={() => setOpen(false)} />;
  return (
    <span className={styles.accept}>
      <Button onPress={() => setOpen(true)}>
        Accept {instead.number || instead.name} for line {lineNo}
      </Button>
    </span>
  );
}

interface AcceptingProps extends Omit<AcceptAtStopProps, 'mayAccept'> {
  readonly onClose: () => void;
}

function Accepting({ offer, onAccepted, onClose }: AcceptingProps) {
  const client = useQueryClient();
  const { up } = useNetwork();
  const job = useQuery(jobQuery(offer.jobId));
  const line = job.data?.coverage.lines.find(({ id }) => id === offer.lineId);
  // the list is to show what is taken here before anybody is told to take it
  const accepted = () => void client.invalidateQueries({ queryKey: pickListsKey }).finally(onAccepted);
  const leave = <Button onPress={onClose}>Leave it</Button>;
  return (
    <div className={styles.accept}>
      {!up && (
        <p role="alert">
          <b>Accepting it needs the network.</b> What you key here is kept. Go on with what is to be taken, and accept it when the
          network is back.
        </p>
      )}
      {job.isPending && up && <Waiting>Fetching what is on the record …</Waiting>}
      {job.isError && job.data === undefined && up && <Failure error={job.error} word="Not shown" choices={leave} />}
      {job.data === undefined && !up && leave}
      {job.data !== undefined && line === undefined && <p>This line is not one of the job any more. {leave}</p>}
      {job.data !== undefined && line !== undefined && (
        <AcceptInstead job={job.data} line={line} part={offer.instead} isOfPartAlone onAccepted={accepted} onClose={onClose} />
      )}
    </div>
  );
}

function anyOf(names: readonly string[]): string {
  return new Intl.ListFormat('en-GB', { type: 'disjunction' }).format(names);
}
