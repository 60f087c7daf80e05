import { formatCode, parseCode } from '@corewright/codes/label-code';
import { JobScan, JobScanDone, ScanRefusal, TakenBack } from '@corewright/contracts/bench';
import { CountEntered, EntryStruck, PlaceClosed, PlaceTaken } from '@corewright/contracts/counting';
import { ContentsMoved, PlaceCarried } from '@corewright/contracts/places';
import { PutAwayDone } from '@corewright/contracts/stores';
import type { NewCommand } from '../api/outbound-queue.js';
import type { QueuedCommand, Refusal } from '../api/queue-machine.js';
import type { Target } from './modes.js';

/** The commands that a scan becomes, and what their outcomes say to a person. */

export type ScanAct = 'pick' | 'fit' | 'put away' | 'count';
const paths: Readonly<Record<ScanAct, string>> = {
  pick: '/api/picks',
  fit: '/api/fits',
  'put away': '/api/put-aways',
  count: '/api/count-entries',
};
const placesPath = '/api/count-places';
const verbs: Readonly<Record<ScanAct, string>> = { pick: 'Pick', fit: 'Fit', 'put away': 'Put away', count: 'Count' };
const refusedWords: Readonly<Record<ScanAct, string>> = {
  pick: 'Not picked',
  fit: 'Not fitted',
  'put away': 'Not put away',
  count: 'Not counted',
};

/** A code as people read it; as it was keyed where it is none. */
export function sayCode(code: string): string {
  const parsed = parseCode(code);
  return parsed.ok ? formatCode(parsed.value.code) : code;
}

/** The command of one scan. Without a quantity the server takes the line's remainder, or all that lies there. */
export function scanCommand(act: ScanAct, code: string, onto: Target, quantity?: string): NewCommand {
  const target = act === 'put away' || act === 'count' ? { placeId: onto.id } : { jobId: onto.id };
  return {
    method: 'POST',
    path: paths[act],
    body: { code, ...target, ...(quantity === undefined ? {} : { quantity }), occurredAt: new Date().toISOString() },
    words: `${verbs[act]} ${sayCode(code)}${quantity === undefined ? '' : `, ${quantity}`}, ${sayCode(onto.code)}`,
  };
}

/** Somebody stands at a place and counts there. */
export function takePlaceCommand(place: Target, countId: string | undefined, join: boolean): NewCommand {
  return {
    method: 'POST',
    path: placesPath,
    body: { code: place.code, join, ...inCount(countId), occurredAt: new Date().toISOString() },
    words: `Count in ${sayCode(place.code)}`,
  };
}

/** One scan of what lies there. Without a quantity a single thing is one, and of a lot it is asked for. */
export function countCommand(code: string, place: Target, countId: string | undefined, inOwnName: boolean): NewCommand {
  const { body, ...command } = scanCommand('count', code, place);
  return { ...command, body: { ...(body as object), ...inCount(countId), inOwnName } };
}

/** Everything at a place is scanned. */
export function closePlaceCommand(place: Target, countId: string | undefined, inOwnName: boolean): NewCommand {
  return {
    method: 'POST',
    path: '/api/count-closings',
    body: { placeId: place.id, ...inCount(countId), inOwnName, occurredAt: new Date().toISOString() },
    words: `All is scanned in ${sayCode(place.code)}`,
  };
}

const inCount = (countId: string | undefined): object => (countId === undefined ? {} : { countId });

/** A place that another person counts in is joined by a second scan of it. */
export function isTakenByAnother(command: QueuedCommand): boolean {
  return command.path === placesPath && command.state.kind === 'needs-you' && command.state.reason.code === 'counted-by-another';
}

/** Everybody had looked: whoever sends it again looks in their own name. @returns what it was a look at; null for anything else */
export function lookedAtByEverybody(command: QueuedCommand): string | null {
  if (command.state.kind !== 'needs-you' || command.state.reason.code !== 'everybody-has-looked') return null;
  const { placeId } = command.body as { placeId: string };
  return lookOf(placeId, codeOf(command));
}

/** A look at a thing in a place; null: at the place, that everything there is scanned. */
export function lookOf(placeId: string, code: string | null): string {
  return `${placeId} ${code ?? ''}`;
}

/** The same scan for another quantity. */
export function withQuantity(command: NewCommand, quantity: string): NewCommand {
  const body = { ...(command.body as object), quantity, occurredAt: new Date().toISOString() };
  const instead = command.path === paths.count ? '' : ' instead';
  return { ...command, body, words: `${command.words}, ${quantity}${instead}` };
}

/** The same scan with what a person has decided about its refusal. It is a new command: the refused one is spent. */
export function decidedCommand(refused: QueuedCommand, decision: Partial<JobScan>): NewCommand | null {
  const body = JobScan.safeParse(refused.body);
  if (!body.success) return null;
  return { method: refused.method, path: refused.path, body: { ...body.data, ...decision }, words: `${refused.words}, decided` };
}

export function takeBackCommand(actId: string, what: string, why: string, act: ScanAct | null = null): NewCommand {
  return {
    method: 'POST',
    path: act === 'count' ? `/api/count-entries/${actId}/strike` : `/api/acts/${actId}/take-back`,
    body: { occurredAt: new Date().toISOString(), why },
    words: `Take back ${what}`,
  };
}

const contentsPath = '/api/contents-moves';

/** Everything that lies in one place goes to another. */
export function moveContentsCommand(from: Target, to: Target): NewCommand {
  return {
    method: 'POST',
    path: contentsPath,
    body: { fromPlaceId: from.id, toPlaceId: to.id, occurredAt: new Date().toISOString() },
    words: `Move all that lies in ${from.name} to ${to.name}`,
  };
}

/** A place is carried to another with all that is in it; null: it stands by itself. */
export function carryCommand(
  place: { readonly id: string; readonly name: string },
  to: { readonly id: string; readonly name: string } | null,
): NewCommand {
  return {
    method: 'POST',
    path: `/api/places/${place.id}/carrying`,
    body: { parentId: to?.id ?? null },
    words: `Carry ${place.name} to ${to === null ? 'where it stood' : to.name}`,
  };
}

/** Which act a queued command is; null for what is no scan. */
export function actOf(command: Pick<QueuedCommand, 'path'>): ScanAct | null {
  const found = Object.entries(paths).find(([, path]) => path === command.path);
  return found === undefined ? null : (found[0] as ScanAct);
}

/** The code that was scanned; null for what is no scan. */
export function codeOf(command: QueuedCommand): string | null {
  const body = command.body;
  if (typeof body !== 'object' || body === null || !('code' in body)) return null;
  return typeof body.code === 'string' ? body.code : null;
}

export type Outcome = {
  readonly word: string;
  readonly title: string;
  readonly detail: string;
  /** with which it can be taken back */
  readonly actId: string | null;
  /** null where another quantity would mean nothing */
  readonly quantity: string | null;
  /** what undoes it where it moved no stock */
  readonly undo?: NewCommand;
};

/** What a settled scan says: the word in large letters, then what it resolved to, then the rest. */
export function outcomeOf(command: QueuedCommand): Outcome {
  if (command.state.kind === 'needs-you') return refusedOutcome(command, command.state.reason);
  if (command.state.kind === 'waiting')
    return { word: 'Waits', title: command.words, detail: command.state.trouble ?? '', actId: null, quantity: null };
  const scan = JobScanDone.safeParse(command.state.body);
  if (scan.success) return jobOutcome(scan.data);
  const away = PutAwayDone.safeParse(command.state.body);
  if (away.success)
    return {
      word: 'Put away',
      title: away.data.thing.name,
      detail: away.data.words,
      actId: away.data.actId,
      quantity: away.data.quantity,
    };
  const place = placeOutcome(command.state.body);
  if (place !== null) return place;
  const back = TakenBack.safeParse(command.state.body);
  if (back.success) {
    const { thing, quantity, words } = back.data;
    return { word: 'Taken back', title: `${thing.name}, ${quantity}`, detail: words, actId: null, quantity: null };
  }
  return countOutcome(command.state.body) ?? { word: 'Done', title: command.words, detail: '', actId: null, quantity: null };
}

const countWords = { nothing: 'Counted', 'how many': 'How many?', 'once more': 'Once more' } as const;

/** What a scan in a count came to; it never says whether the books agree. */
function countOutcome(body: unknown): Outcome | null {
  const entered = CountEntered.safeParse(body);
  if (entered.success) {
    const { asks, thing, quantity, words, actId } = entered.data;
    const title = quantity === null ? thing.name : `${thing.name}, ${quantity}`;
    return { word: countWords[asks], title, detail: words, actId, quantity };
  }
  const place = PlaceTaken.or(PlaceClosed).safeParse(body);
  if (place.success) {
    const word = place.data.act === 'place taken' ? 'This place' : 'All scanned';
    return { word, title: place.data.place.name, detail: place.data.words, actId: null, quantity: null };
  }
  const struck = EntryStruck.safeParse(body);
  if (!struck.success) return null;
  return { word: 'Struck out', title: struck.data.thing.name, detail: struck.data.words, actId: null, quantity: null };
}

const doneWords: Readonly<Record<JobScanDone['act'], string>> = {
  picked: 'Picked',
  fitted: 'Fitted',
  're-used': 'Re-used',
  used: 'Used',
};

function placeOutcome(body: unknown): Outcome | null {
  const contents = ContentsMoved.safeParse(body);
  if (contents.success) {
    const { actId, from, words } = contents.data;
    return { word: 'Moved', title: `All that lay in ${from.name}`, detail: words, actId, quantity: null };
  }
  const carried = PlaceCarried.safeParse(body);
  if (!carried.success) return null;
  const { place, before, words } = carried.data;
  const undo = carryCommand(place, before === null ? null : { id: before.id, name: before.path });
  return { word: 'Carried', title: place.name, detail: words, actId: null, quantity: null, undo };
}

function jobOutcome(done: JobScanDone): Outcome {
  const word = doneWords[done.act];
  const found = done.found ? ' Found in your hand against the books: stores will look.' : '';
  return {
    word,
    title: `${done.thing.name}, ${done.quantity}`,
    detail: [`${lineWords(done)}${found}`, done.notice].filter(Boolean).join(' '),
    actId: done.actId,
    quantity: done.quantity,
  };
}

function lineWords({ line }: JobScanDone): string {
  if (line === null) return '';
  const left = line.stillToCome === '0' ? 'the line is complete' : `${line.stillToCome} still to come`;
  return `Line ${line.lineNo}, ${line.name}: ${left}.`;
}

function refusedOutcome(command: QueuedCommand, reason: Refusal): Outcome {
  const act = actOf(command);
  const word = act === null ? placeRefused(command.path) : refusedWords[act];
  return { word, title: reason.title, detail: reason.detail, actId: null, quantity: null };
}

function placeRefused(path: string): string {
  if (path === contentsPath) return 'Not moved';
  return path.endsWith('/carrying') ? 'Not carried' : 'Refused';
}

/** What can be decided about a refused scan; null where the refusal offers nothing. */
export function refusalOf(command: QueuedCommand): ScanRefusal | null {
  if (command.state.kind !== 'needs-you') return null;
  const parsed = ScanRefusal.safeParse(command.state.reason.values);
  return parsed.success ? parsed.data : null;
}
