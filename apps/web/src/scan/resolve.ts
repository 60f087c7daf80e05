import { ScanAnswer } from '@corewright/contracts/scanning';
import { api } from '../api/client.js';
import { asProblem } from '../api/problem.js';
import type { Target } from './modes.js';

/** What codes were on when they were last scanned here, so that a job card still opens its job while the network is away. */
const shelf = 'corewright.resolved';
const keptMax = 300;

export type PlaceScanned = { readonly id: string; readonly name: string; readonly path: string };
export type Resolved = { readonly answer: ScanAnswer; readonly fromMemory: boolean };

/** Asks what a code is on. Without an answer from the server, what this device remembers of it, said to be so. */
export async function resolve(code: string): Promise<Resolved> {
  try {
    const answer = await api.get(ScanAnswer, `/api/scan/${encodeURIComponent(code)}`);
    remember(answer);
    return { answer, fromMemory: false };
  } catch (thrown) {
    const kept = asProblem(thrown).code === 'no-answer' ? recall(code) : null;
    if (kept === null) throw thrown;
    return { answer: kept, fromMemory: true };
  }
}

/** Places that were scanned here, the last one first: to choose from while nobody answers. */
export function placesRemembered(): readonly ScanAnswer[] {
  return recallAll().filter(({ kind, voided }) => kind === 'place' && !voided);
}

/**
 * The place that a label is on; null where it is on none, or on the kit tray of a job.
 * @throws ApiProblem where nobody answers and it was never scanned here
 */
export async function placeOfScan(code: string): Promise<PlaceScanned | null> {
  const { kind, voided, detail, id, name, where } = (await resolve(code)).answer;
  return kind !== 'place' || voided || detail === 'tray' ? null : { id, name, path: where };
}

export function targetOf(answer: ScanAnswer): Target {
  return { id: answer.id, code: answer.code, name: answer.name, detail: answer.detail };
}

/** The page of what was scanned; null where there is none. */
export function pathOf(answer: ScanAnswer): string | null {
  if (answer.voided) return null;
  if (answer.kind === 'job') return `/jobs/${answer.id}`;
  if (answer.kind === 'place') return `/stores/places/${answer.id}`;
  if (answer.kind === 'badge' || answer.kind === 'command') return null;
  return `/stores/things/${answer.id}`;
}

function recallAll(): readonly ScanAnswer[] {
  try {
    const parsed = ScanAnswer.array().safeParse(JSON.parse(localStorage.getItem(shelf) ?? '[]'));
    return parsed.success ? parsed.data : [];
  } catch {
    return [];
  }
}

const recall = (code: string): ScanAnswer | null => recallAll().find((each) => each.code === code) ?? null;

function remember(answer: ScanAnswer): void {
  try {
    const others = recallAll().filter((each) => each.code !== answer.code);
    localStorage.setItem(shelf, JSON.stringify([answer, ...others].slice(0, keptMax)));
  } catch {
    // nothing can be kept here: scanning goes on, only not without the network
  }
}
