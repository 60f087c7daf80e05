import { mayStandIn } from '@corewright/contracts/places';
import type { PlaceKind } from '@corewright/contracts/stores';
import { badInput, type Refusal } from '../../platform/refusal.js';

/** A place that is to hold another; null stands for the workshop itself. */
export interface Around {
  id: string;
  path: string;
  kind: PlaceKind;
  isClosed: boolean;
  /** it stands in the place that is to be carried, or is that place */
  isInside: boolean;
}

export interface Arranged {
  id: string;
  name: string;
  path: string;
  kind: PlaceKind;
  parentId: string | null;
  isClosed: boolean;
}

/** What a place of this kind is called in a sentence. */
export const kindWords: Readonly<Record<PlaceKind, string>> = {
  site: 'a site',
  area: 'an area',
  rack: 'a rack',
  bin: 'a bin',
  tray: 'a kit tray',
  quarantine: 'a place for quarantine',
};

/** Why a place cannot be carried there; null where it can. */
export function whyNotCarried(place: Arranged, around: Around | null, isNameTaken: boolean): Refusal | null {
  const where = around?.path ?? 'the workshop itself';
  if (around?.isInside === true)
    return stopped(
      'place-in-itself',
      'A place in itself',
      `${around.path} is ${around.id === place.id ? 'the very place that is carried' : `in ${place.path}`}, which cannot stand inside itself. Choose a place outside it.`,
    );
  if (around !== null && around.id === place.parentId)
    return stopped('stands-there-already', 'It stands there already', `By the books ${place.path} stands there already.`);
  if (around === null && place.parentId === null)
    return stopped('stands-there-already', 'It stands there already', `${place.path} stands in no other place already.`);
  return whyNotIn(place, around) ?? (isNameTaken ? nameTaken(place.name, where) : null);
}

/** Why a place of this kind cannot stand there; null where it can. */
export function whyNotIn({ kind, isClosed }: Pick<Arranged, 'kind' | 'isClosed'>, around: Around | null): Refusal | null {
  if (around === null) return null;
  if (around.isClosed && !isClosed)
    return stopped(
      'place-closed',
      'The place is closed',
      `${around.path} is closed, and nothing stands in a closed place. Choose another, or open it again on its page.`,
    );
  if (mayStandIn(kind, around.kind)) return null;
  const words =
    around.kind === 'tray'
      ? `${around.path} is the kit tray of a job: no place stands in it.`
      : `${around.path} is ${kindWords[around.kind]}, and ${kindWords[kind]} does not stand in one. Choose a larger place, or say on its page what this one really is.`;
  return stopped('cannot-stand-there', 'It cannot stand there', words);
}

function nameTaken(name: string, where: string): Refusal {
  return stopped(
    'name-taken',
    'Two of one name',
    `In ${where} there is a “${name}” already. Give one of them another name first.`,
  );
}

export interface Edited {
  kind: PlaceKind;
  name: string;
}

/** Why what a place is cannot be changed so; null where it can. */
export function whyNotEdited(
  place: Arranged,
  edited: Edited,
  beside: { around: Around | null; inside: readonly { name: string; kind: PlaceKind }[]; isNameTaken: boolean },
): Refusal | null {
  if (beside.isNameTaken) return badInput('name', `There is a “${edited.name}” there already. Give this one another name.`);
  if (edited.kind === place.kind) return null;
  if (place.kind === 'tray' || edited.kind === 'tray')
    return badInput(
      'kind',
      'A kit tray belongs to a job from its beginning to its end: no other place becomes one, and it becomes none.',
    );
  const above = whyNotIn({ kind: edited.kind, isClosed: place.isClosed }, beside.around);
  if (above !== null) return badInput('kind', above.detail);
  const tooLarge = beside.inside.find(({ kind }) => !mayStandIn(kind, edited.kind));
  if (tooLarge === undefined) return null;
  return badInput(
    'kind',
    `${tooLarge.name} stands in it and is ${kindWords[tooLarge.kind]}, which does not stand in ${kindWords[edited.kind]}. Carry it elsewhere first.`,
  );
}

export interface Emptiness {
  things: number;
  /** places that stand in it and are open */
  places: number;
  isGoodsIn: boolean;
}

/** Why a place cannot be closed; null where it can. */
export function whyNotClosed(place: Arranged, { things, places, isGoodsIn }: Emptiness): Refusal | null {
  if (place.isClosed) return stopped('closed-already', 'Closed already', `${place.path} is closed already.`);
  if (isGoodsIn)
    return stopped('in-use', 'Goods come in there', `${place.path} is where goods stand that have no place yet: it stays open.`);
  if (place.kind === 'tray')
    return stopped('tray-of-a-job', 'A job’s tray', `${place.path} belongs to its job, and ends with it.`);
  if (things > 0)
    return stopped(
      'not-empty',
      'Not empty',
      `${things === 1 ? '1 thing lies' : `${things} things lie`} in ${place.path}. Move everything in it to another place first: its page does that in one act.`,
    );
  if (places > 0)
    return stopped(
      'not-empty',
      'Places stand in it',
      `${places === 1 ? '1 open place stands' : `${places} open places stand`} in ${place.path}. Carry them elsewhere or close them first.`,
    );
  return null;
}

function stopped(code: string, title: string, words: string): Refusal {
  return { status: 409, code, title, detail: `${words} Nothing was changed.` };
}
