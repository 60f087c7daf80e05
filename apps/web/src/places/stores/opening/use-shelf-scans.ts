import { formatCode, type ParsedCode } from '@corewright/codes/label-code';
import type { OpeningRow, OpeningShelf } from '@corewright/contracts/opening-stock';
import { useQuery, useQueryClient } from '@tanstack/react-query';
import { useRouter } from '@tanstack/react-router';
import { useState } from 'react';
import { queue } from '../../../api/queue.js';
import { newKey } from '../../../api/uuid.js';
import { outcomeOf, scanCommand } from '../../../scan/acts.js';
import { placeOfScan, resolve } from '../../../scan/resolve.js';
import { useScanTaker } from '../../../scan/scanning.js';
import { rowBegunBy } from '../../goods-in/blank-labels.js';
import { blankLabelsQuery } from '../../goods-in/queries.js';
import { kindAlong, usedAt } from './codes-along.js';
import { shelvesKey } from './queries.js';
import { newRow, type RowKeyed, saysNothing } from './row-keyed.js';
import type { OntoJob, QueuedRow } from './shelf-queue.js';

export interface ShelfScans {
  readonly place: { readonly id: string; readonly code: string; readonly name: string; readonly path: string };
  readonly row: RowKeyed;
  readonly onKey: (row: RowKeyed) => void;
  readonly rows: readonly OpeningRow[];
  readonly waiting: readonly QueuedRow[];
  /** keeps the row in hand; false where something is wrong with it, which the form then says */
  readonly onKeep: () => boolean;
  readonly onJob: (job: OntoJob) => void;
}

/**
 * What a scan does at a shelf. A blank label goes onto the row in hand, or begins the next; a thing that the books know is put away here; another place is
 * gone to; a job card says onto which job the row is taken. What came of it is told in one line.
 */
export function useShelfScans({ place, row, onKey, rows, waiting, onKeep, onJob }: ShelfScans): string {
  const [said, say] = useState('');
  const router = useRouter();
  const blocks = useQuery(blankLabelsQuery).data?.blocks ?? [];
  const client = useQueryClient();

  const onBlank = (code: string, kind: RowKeyed['kind']) => {
    if (code === row.code) return say(`${sayCode(code)} is on this row already.`);
    if (usedAt(code) !== null || waiting.some(({ body }) => body.code === code))
      return say(`${sayCode(code)} is on another row here already. Take another blank label for this one.`);
    if (row.code === '' && row.version === null) {
      onKey({ ...row, code, kind, ...(kind === row.kind ? {} : { referenceId: null, referenceName: '' }) });
      return say(`${sayCode(code)} is on this row.`);
    }
    if (!onKeep()) return;
    onKey({ ...newRow(newKey(), { kind, ownerName: row.ownerName }), code });
    say(`Kept. ${sayCode(code)} begins the next row.`);
  };
  const onThing = async (code: string) => {
    const kept = await queue.add(scanCommand('put away', code, { ...place, detail: place.path }));
    say(`${sayCode(code)} is in the books already: it is put away here and not made twice.`);
    const { title, detail } = outcomeOf(await queue.settled(kept.key));
    say(`${title}. ${detail}`);
  };
  /** Without the network a shelf that was opened here before is gone to, and opens as it was. */
  const placeOf = async (code: string) => {
    const opened = client.getQueriesData<OpeningShelf>({ queryKey: shelvesKey }).map(([, shelf]) => shelf?.place);
    return opened.find((each) => each?.code === code) ?? (await placeOfScan(code).catch(() => null));
  };
  const onPlace = async (code: string) => {
    if (code === place.code) return say(`This is ${place.name}: you are keying what lies here.`);
    const other = await placeOf(code);
    if (other === null)
      return say(`${sayCode(code)} is no shelf that this device knows. If it is one, open it when there is network.`);
    if (!saysNothing(row))
      return say(`${other.name} is a place and no thing. Keep the row in hand first, then scan it again to go there.`);
    router.history.push(`/stores/opening/shelf/${other.id}`);
  };
  const onJobCard = async (code: string) => {
    try {
      const { answer } = await resolve(code);
      onJob({ id: answer.id, code: answer.code, name: answer.name });
      say(`The row goes straight onto ${sayCode(code)}, ${answer.name}.`);
    } catch {
      say(`${sayCode(code)} could not be looked up. Nothing was changed.`);
    }
  };

  useScanTaker((parsed: ParsedCode) => {
    const { code, kind } = parsed;
    const known = rows.find((each) => each.code === code);
    const blank = rowBegunBy(code, blocks) ?? kindAlong(code);
    if (known !== undefined && known.where === place.path) say(`${sayCode(code)} is ${known.name}, keyed here already.`);
    else if (blank !== null || code === row.code || (known === undefined && usedAt(code) === place.id))
      onBlank(code, blank ?? row.kind);
    else if (kind === 'P') void onPlace(code);
    else if (kind === 'J') void onJobCard(code);
    else if (kind === 'U' || kind === 'L' || kind === 'C' || kind === 'X') void onThing(code);
    else return false;
    return true;
  });
  return said;
}

function sayCode(code: string): string {
  return formatCode(code as Parameters<typeof formatCode>[0]);
}
