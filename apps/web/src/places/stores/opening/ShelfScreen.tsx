import type { OpeningShelf } from '@corewright/contracts/opening-stock';
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { queue } from '../../../api/queue.js';
import { useWorksWithThings } from '../../../api/session.js';
import { useQueue } from '../../../api/use-queue.js';
import { newKey } from '../../../api/uuid.js';
import { Acts, Button, ButtonLink } from '../../../ui/Button.js';
import { Empty, Waiting } from '../../../ui/Empty.js';
import { Failure } from '../../../ui/Problem.js';
import { PageHead, Section } from '../../../ui/Section.js';
import { sayInstant } from '../../../ui/say-when.js';
import { pictures, picturesOf } from '../../photographs/pictures.js';
import { sayThings } from '../say-things.js';
import { AddShelf } from './AddShelf.js';
import { codeUsed } from './codes-along.js';
import { LabelsOfShelf } from './LabelsOfShelf.js';
import styles from './Opening.module.css';
import { shelfQuery } from './queries.js';
import { RowForm } from './RowForm.js';
import { isManyFor, keyedOf, newRow, type RowKeyed, sayRow, whatIsWrong } from './row-keyed.js';
import { RefusedRows, ShelfRows } from './ShelfRows.js';
import { ShelfStateWord } from './ShelfState.js';
import { type OntoJob, type QueuedRow, rowCommand, rowsKept, shelfCommand } from './shelf-queue.js';
import { useRowInHand } from './use-row-in-hand.js';
import { useShelfScans } from './use-shelf-scans.js';

/** A shelf that is being put in the books: a row a thing, one after the other, without leaving the page. */
export function ShelfScreen({ placeId }: { readonly placeId: string }) {
  const shelf = useQuery(shelfQuery(placeId));
  const client = useQueryClient();
  useEffect(
    () =>
      queue.onSettled(() => {
        void client.invalidateQueries({ queryKey: ['stores', 'opening'] });
        // a photograph waits for the row that it shows
        void pictures.hurry();
      }),
    [client],
  );
  if (shelf.isPending) return <Waiting>Fetching the shelf …</Waiting>;
  if (shelf.data === undefined)
    return (
      <Failure error={shelf.error} word="Not shown" choices={<Button onPress={() => void shelf.refetch()}>Try again</Button>} />
    );
  return <Shelf shelf={shelf.data} />;
}

function Shelf({ shelf }: { readonly shelf: OpeningShelf }) {
  const { place, rows, state } = shelf;
  const mayKey = useWorksWithThings() && place.kind !== 'tray';
  const isOpen = mayKey && state !== 'done';
  const { waiting, refused } = rowsKept(useQueue(), place.id);
  const [row, setRow] = useRowInHand(place.id);
  const standing = rows.filter(({ standing: each }) => each !== 'struck out');
  return (
    <>
      <PageHead
        title={place.name}
        note={
          <>
            {place.path}. <ShelfStateWord state={state} />
            {shelf.at !== null && `, ${sayInstant(shelf.at, new Date())}, ${shelf.by}`}
          </>
        }
        acts={
          <Acts>
            <ButtonLink href="/stores/opening">All shelves</ButtonLink>
            <ButtonLink href={`/labels/${place.code}`}>Label of this place</ButtonLink>
          </Acts>
        }
      />
      {isOpen && <Keying shelf={shelf} row={row} onRow={setRow} waiting={waiting} />}
      {state === 'done' && <InBooks place={place} mayOpen={mayKey} />}
      <RefusedRows rows={refused} onAgain={setRow} />
      <Section title="Keyed here" aside={sayThings(standing.length + waiting.length)}>
        {rows.length + waiting.length === 0 ? (
          <Empty title="Nothing keyed yet">Begin at one end. A photograph and a count are enough; names come later.</Empty>
        ) : (
          <ShelfRows rows={rows} waiting={waiting} mayKey={isOpen} onPutRight={(kept) => setRow(keyedOf(kept))} />
        )}
      </Section>
      {isOpen && <LabelsOfShelf rows={standing} />}
      {isOpen && <AddShelf parent={place} />}
    </>
  );
}

interface KeyingProps {
  readonly shelf: OpeningShelf;
  readonly row: RowKeyed;
  readonly onRow: (row: RowKeyed) => void;
  readonly waiting: readonly QueuedRow[];
}

/** The row in hand. It is kept on this device the moment that it is said, and the next is there. */
function Keying({ shelf, row: keyed, onRow, waiting }: KeyingProps) {
  const { place } = shelf;
  const [job, setJob] = useState<OntoJob | null>(null);
  const [last, setLast] = useState('');
  const taken = picturesOf(useQueue(pictures), keyed.id).waiting.length;
  const row = keyed.photographed || taken === 0 ? keyed : { ...keyed, photographed: true };
  const keep = (sure: boolean) => {
    void queue.add(rowCommand(row, place.id, job, sure));
    if (row.code !== '') codeUsed(row.code, place.id);
    setLast(`Kept: ${sayRow(row)}.`);
    setJob(null);
    onRow(newRow(newKey(), row));
  };
  const said = useShelfScans({
    place,
    row,
    onKey: onRow,
    rows: shelf.rows,
    waiting,
    onJob: setJob,
    onKeep: () => {
      const isFit = whatIsWrong(row) === null && !isManyFor(row);
      if (isFit) keep(false);
      return isFit;
    },
  });
  return (
    <Section
      title={row.version === null ? 'What is here' : 'Put it right'}
      aside="scan: a blank label, a thing to put away here, the next shelf, a job card"
    >
      <RowForm
        key={row.id}
        row={row}
        onKey={onRow}
        job={job}
        onNoJob={() => setJob(null)}
        onKeep={keep}
        onLeave={row.version === null ? null : () => onRow(newRow(newKey(), row))}
      />
      <p role="status" className={styles.said}>
        {[last, said].filter((words) => words !== '').join(' ')}
      </p>
      {row.version === null && (
        <Acts>
          <Button onPress={() => void queue.add(shelfCommand(place.id, 'done', `${place.name} is done`))}>
            This shelf is done
          </Button>
        </Acts>
      )}
    </Section>
  );
}

interface InBooksProps {
  readonly place: OpeningShelf['place'];
  readonly mayOpen: boolean;
}

function InBooks({ place, mayOpen }: InBooksProps) {
  return (
    <Section title="In the books">
      <p>What lies here is in the books. Whoever finds more opens it again.</p>
      {mayOpen && (
        <Acts>
          <Button onPress={() => void queue.add(shelfCommand(place.id, 'open', `Open ${place.name} again`))}>
            Open it again
          </Button>
        </Acts>
      )}
    </Section>
  );
}
