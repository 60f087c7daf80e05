import { newId } from '../../apps/api/src/platform/new-id.js';
import type { ImportReport } from '../../libs/contracts/src/imports.js';
import type { Visitor } from './bare-server.js';

/** Files by their names without `.csv`. */
export type Files = Record<string, string | Uint8Array<ArrayBuffer>>;

export interface ImportAnswer {
  status: number;
  body: ImportReport & { code: string; detail: string };
}

export interface SendFiles {
  by: Visitor;
  apply?: boolean;
  key?: string;
}

/** Sends files as the page Settings does; without `apply` they are only tried. */
export async function sendFiles(
  url: string,
  files: Files,
  { by, apply = false, key = newId() }: SendFiles,
): Promise<ImportAnswer> {
  const form = new FormData();
  for (const [name, content] of Object.entries(files)) form.append(name, new Blob([content]), `${name}.csv`);
  const response = await fetch(`${url}/api/imports?apply=${apply ? 'yes' : 'no'}`, {
    method: 'POST',
    headers: { cookie: by.cookie ?? '', 'idempotency-key': key },
    body: form,
  });
  return { status: response.status, body: (await response.json()) as ImportAnswer['body'] };
}

/** Each fault in a line: file, line, column and words. */
export function faultsIn({ body }: ImportAnswer): string[] {
  return body.faults.map(({ file, line, column, words }) => `${file} ${line} ${column}: ${words}`);
}
