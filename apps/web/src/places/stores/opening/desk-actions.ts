import { AtDesk, DeskRow, type NameOpeningRow, type NextAtDesk, OpeningSplit } from '@corewright/contracts/opening-stock';
import type * as z from 'zod';
import { api } from '../../../api/client.js';
import { newKey } from '../../../api/uuid.js';

type Seen = Pick<DeskRow, 'id' | 'version'>;

const write = <Answer>(schema: z.ZodType<Answer>, row: Seen, act: string, body: unknown): Promise<Answer> =>
  api.send(schema, 'POST', `/api/opening/rows/${row.id}/${act}`, body, { key: newKey(), ifMatch: `"${row.version}"` });

/** Takes the next that waits in hand, after this one; or this very one. */
export function takeNext(asked: z.input<typeof NextAtDesk>): Promise<AtDesk> {
  return api.send(AtDesk, 'POST', '/api/opening/desk', asked, { key: newKey() });
}

export const nameRow = (row: Seen, said: z.input<typeof NameOpeningRow>) => write(DeskRow, row, 'name', said);
export const askAround = (row: Seen) => write(DeskRow, row, 'ask', {});
export const bringBack = (row: Seen) => write(DeskRow, row, 'bring-back', {});
export const scrapRow = (row: Seen, reason: string) => write(DeskRow, row, 'scrap', { reason });
export const splitRow = (row: Seen, said: { id: string; count: string; words: string }) =>
  write(OpeningSplit, row, 'split', said);
