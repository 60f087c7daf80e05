import type { OpeningRow } from '@corewright/contracts/opening-stock';
import { OpeningRow as OpeningRowSchema } from '@corewright/contracts/opening-stock';
import { useState } from 'react';
import { api } from '../../../api/client.js';
import { queue } from '../../../api/queue.js';
import { useKeepsBooks } from '../../../api/session.js';
import { newKey } from '../../../api/uuid.js';
import { Acts, Button } from '../../../ui/Button.js';
import { Code } from '../../../ui/Code.js';
import { Go } from '../../../ui/Go.js';
import { Failure, Problem } from '../../../ui/Problem.js';
import { WhyForm } from '../../../ui/WhyForm.js';
import { countPhotographs } from '../../photographs/say-photographs.js';
import { useStoresChange } from '../actions.js';
import { codeFree } from './codes-along.js';
import { bringBack } from './desk-actions.js';
import styles from './Opening.module.css';
import { keyedAgain, type RowKeyed, sayRow } from './row-keyed.js';
import type { QueuedRow } from './shelf-queue.js';

export interface ShelfRowsProps {
  readonly rows: readonly OpeningRow[];
  readonly waiting: readonly QueuedRow[];
  readonly mayKey: boolean;
  readonly onPutRight: (row: OpeningRow) => void;
}

/** What was keyed here: what this device still keeps first, then what is in the books, the newest at the top. */
export function ShelfRows({ rows, waiting, mayKey, onPutRight }: ShelfRowsProps) {
  const inBooks = rows.filter(({ id }) => !waiting.some((kept) => kept.id === id)).toReversed();
  return (
    <ol className={styles.rows} aria-label="Keyed here">
      {waiting.toReversed().map((kept) => (
        <li key={kept.command.key} className={styles.row}>
          <span>{sayKept(kept)}</span>
          <span className={styles.standing}>kept on this device</span>
        </li>
      ))}
      {inBooks.map((row) => (
        <li key={row.id}>
          <Kept row={row} mayKey={mayKey} onPutRight={() => onPutRight(row)} />
        </li>
      ))}
    </ol>
  );
}

function sayKept({ body }: QueuedRow): string {
  return sayRow({ ...body, text: body.words, referenceName: '' });
}

const STANDINGS: Readonly<Record<OpeningRow['standing'], string>> = {
  'to name': 'to be named',
  named: 'named',
  asked: 'nobody knows yet',
  scrapped: 'to scrap',
  'struck out': 'struck out',
};

function Kept({
  row,
  mayKey,
  onPutRight,
}: {
  readonly row: OpeningRow;
  readonly mayKey: boolean;
  readonly onPutRight: () => void;
}) {
  const [strikes, setStrikes] = useState(false);
  const striking = useStoresChange(
    () => setStrikes(false),
    (reason: string) =>
      api.send(
        OpeningRowSchema,
        'POST',
        `/api/opening/rows/${row.id}/strike`,
        { reason },
        { key: newKey(), ifMatch: `"${row.version}"` },
      ),
  );
  const keepsBooks = useKeepsBooks();
  const back = useStoresChange(
    () => undefined,
    () => bringBack(row),
  );
  const isStruck = row.standing === 'struck out';
  return (
    <div className={isStruck ? styles.struck : styles.row}>
      <span>
        <Go href={`/stores/things/${row.id}`}>
          <Code code={row.code} size="row" />
        </Go>{' '}
        <b>{row.kind === 'lot' && row.quantity !== '1' ? `${row.quantity} of ${row.name}` : row.name}</b>{' '}
        <span className="quiet">{factsOf(row)}</span>
      </span>
      <span className={styles.standing}>{STANDINGS[row.standing]}</span>
      {mayKey && row.canBeChanged && !strikes && (
        <Acts>
          <Button look="plain" onPress={onPutRight} label={`Put right ${row.code}`}>
            Put right
          </Button>
          <Button look="plain" onPress={() => setStrikes(true)} label={`Strike out ${row.code}`}>
            Strike out
          </Button>
        </Acts>
      )}
      {row.standing === 'scrapped' && keepsBooks && (
        <Acts>
          <Button look="plain" onPress={() => back.mutate(undefined)} isPending={back.isPending} label={`Bring back ${row.code}`}>
            Bring it back from scrap
          </Button>
        </Acts>
      )}
      {back.isError && <Failure error={back.error} word="Not brought back" />}
      {strikes && (
        <WhyForm
          label={`Strike out ${row.code}`}
          question="Why it is struck out"
          note="its label is void then; the row stays to be read"
          act="Strike it out"
          isGrave
          failed="Not struck out"
          sending={striking}
          onWhy={(reason) => striking.mutate(reason)}
          onClose={() => setStrikes(false)}
        />
      )}
    </div>
  );
}

function factsOf(row: OpeningRow): string {
  return [
    row.part?.number ?? row.unitType?.name ?? '',
    row.marks,
    row.owner === null ? '' : `property of ${row.owner.name}`,
    row.job === null ? '' : `taken onto ${row.job.name}`,
    row.canBeChanged || row.standing === 'struck out' ? '' : row.where,
    row.pictures.length === 0 ? 'no photograph' : countPhotographs(row.pictures.length),
    row.labelled ? '' : 'no label printed',
    row.keyedBy,
  ]
    .filter((words) => words !== '')
    .join(', ');
}

/** Rows that the server refused: each says why, and what can be done. */
export function RefusedRows({
  rows,
  onAgain,
}: {
  readonly rows: readonly QueuedRow[];
  readonly onAgain: (row: RowKeyed) => void;
}) {
  return rows.map((kept) => {
    const { state, key } = kept.command;
    if (state.kind !== 'needs-you') return null;
    const again = () => {
      onAgain(keyedAgain(kept.body, kept.id));
      leaveLabel(kept);
      void queue.dismiss(key);
    };
    return (
      <Problem
        key={key}
        word="Not kept"
        reason={`${sayKept(kept)}: ${state.reason.title}`}
        next={state.reason.detail}
        choices={
          <>
            <Button onPress={again}>Take it in hand again</Button>
            <Button look="plain" onPress={() => void queue.tryAgain(key)}>
              Send it again as it is
            </Button>
            <Button
              look="plain"
              onPress={() => {
                leaveLabel(kept);
                void queue.dismiss(key);
              }}
            >
              Throw it away
            </Button>
          </>
        }
      />
    );
  });
}

function leaveLabel({ body }: QueuedRow): void {
  if (body.code !== null) codeFree(body.code);
}
