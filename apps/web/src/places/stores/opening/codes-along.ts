import type { BlankKind } from '@corewright/contracts/labels';
import { useSyncExternalStore } from 'react';
import { newKey } from '../../../api/uuid.js';
import { setCodesAside } from '../../labels/actions.js';

/**
 * Codes that were set aside for this device, so that a thing can be given its code where there is no network: it is written on a tag by hand and printed
 * later. No other device is given them.
 */
type Along = Readonly<Record<BlankKind, readonly string[]>>;

const shelf = 'corewright.opening.codes';
const none: Along = { unit: [], lot: [], unsorted: [] };
let along: Along | null = null;
const listeners = new Set<() => void>();

function recall(): Along {
  try {
    return { ...none, ...(JSON.parse(localStorage.getItem(shelf) ?? '{}') as Partial<Along>) };
  } catch {
    return none;
  }
}

function get(): Along {
  along ??= recall();
  return along;
}

function put(next: Along): void {
  along = next;
  try {
    localStorage.setItem(shelf, JSON.stringify(next));
  } catch {
    // they last as long as the page; codes that are lost so stay unused
  }
  for (const listener of listeners) listener();
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

export function useCodesAlong(): Along {
  return useSyncExternalStore(subscribe, get);
}

/** Takes so many codes of a kind along. */
export async function takeCodesAlong(kind: BlankKind, count: number): Promise<void> {
  const block = await setCodesAside({ id: newKey(), kind, count }, newKey());
  put({ ...get(), [kind]: [...get()[kind], ...block.free] });
}

/** The next code of a kind, which is used up by that; null where none is left. Another tab may have used some meanwhile. */
export function nextCodeAlong(kind: BlankKind): string | null {
  along = recall();
  const [first, ...rest] = along[kind];
  if (first === undefined) return null;
  put({ ...along, [kind]: rest });
  return first;
}

/** What a code would be on that this device has along; null where it is none of them. */
export function kindAlong(code: string): BlankKind | null {
  const found = (Object.entries(get()) as [BlankKind, readonly string[]][]).find(([, codes]) => codes.includes(code));
  return found?.[0] ?? null;
}

const usedShelf = 'corewright.opening.used';
/** Longer than the server takes to tell every device of a label that is used. */
const usedMax = 500;

interface Used {
  readonly code: string;
  readonly placeId: string;
}

function used(): readonly Used[] {
  try {
    return JSON.parse(localStorage.getItem(usedShelf) ?? '[]') as readonly Used[];
  } catch {
    return [];
  }
}

function keepUsed(codes: readonly Used[]): void {
  try {
    localStorage.setItem(usedShelf, JSON.stringify(codes.slice(-usedMax)));
  } catch {
    // the server refuses a label that is on two things all the same
  }
}

/** The shelf at which a row was kept on this device that bears this label, though the server may not have told so yet. */
export function usedAt(code: string): string | null {
  return used().find((each) => each.code === code)?.placeId ?? null;
}

/** A row that bears this label is kept: it is not given again. */
export function codeUsed(code: string, placeId: string): void {
  keepUsed([...used().filter((each) => each.code !== code), { code, placeId }]);
  const kind = kindAlong(code);
  if (kind !== null) put({ ...get(), [kind]: get()[kind].filter((each) => each !== code) });
}

/** The row that bore this label was thrown away. */
export function codeFree(code: string): void {
  keepUsed(used().filter((each) => each.code !== code));
}
