import { KeepOpeningRow } from '@corewright/contracts/opening-stock';
import type { NewCommand, QueueSnapshot } from '../../../api/outbound-queue.js';
import type { QueuedCommand } from '../../../api/queue-machine.js';
import { bodyOf, type RowKeyed, sayRow } from './row-keyed.js';

const rowPath = /^\/api\/opening\/rows\/([0-9a-f-]{36})$/;

export interface OntoJob {
  readonly id: string;
  readonly code: string;
  readonly name: string;
}

/** The command that keeps a row: it waits in this device's queue until the server has decided. */
export function rowCommand(row: RowKeyed, placeId: string, job: OntoJob | null, sure: boolean): NewCommand {
  return {
    method: 'PUT',
    path: `/api/opening/rows/${row.id}`,
    body: bodyOf(row, placeId, job?.id ?? null, sure),
    words: `Opening stock: ${sayRow(row)}`,
    ...(row.version === null ? {} : { ifMatch: `"${row.version}"` }),
  };
}

export interface QueuedRow {
  readonly id: string;
  readonly body: KeepOpeningRow;
  readonly command: QueuedCommand;
}

/** The rows of a shelf that this device keeps: those that wait, and those that were refused. */
export function rowsKept(
  { waiting, needsYou }: Pick<QueueSnapshot, 'waiting' | 'needsYou'>,
  placeId: string,
): { waiting: readonly QueuedRow[]; refused: readonly QueuedRow[] } {
  const ofShelf = (commands: readonly QueuedCommand[]) =>
    commands.flatMap((command) => rowOf(command) ?? []).filter(({ body }) => body.placeId === placeId);
  return { waiting: ofShelf(waiting), refused: ofShelf(needsYou) };
}

function rowOf(command: QueuedCommand): QueuedRow | null {
  const id = command.method === 'PUT' ? rowPath.exec(command.path)?.[1] : undefined;
  const body = KeepOpeningRow.safeParse(command.body);
  return id === undefined || !body.success ? null : { id, body: body.data, command };
}

/** What changes how far a shelf is; behind the rows that wait, so that it is said of them too. */
export function shelfCommand(placeId: string, act: 'done' | 'open', words: string): NewCommand {
  return { method: 'POST', path: `/api/opening/places/${placeId}/${act}`, body: {}, words };
}
