import * as z from 'zod';
import { Coded, CodeText, Id, Instant, Quantity, RequiredText, ShortText } from './base.js';
import { PlaceBrief, PlaceKind, ThingKind } from './stores.js';

/** A thing that lies in a place, as it shows on the shelf. */
export const LyingThing = z.object({
  id: Id,
  code: CodeText,
  kind: ThingKind,
  name: z.string(),
  detail: z.string(),
  quantity: Quantity,
  /** it was looked for and not found */
  isMissing: z.boolean(),
  /** whose goods it is; null where it is ours */
  owner: z.string().nullable(),
  /** why it is held back; null where it is not */
  heldBack: z.string().nullable(),
  condemned: z.boolean(),
  /** the newest photograph of it; null where there is none */
  pictureId: Id.nullable(),
});
export type LyingThing = z.infer<typeof LyingThing>;

/** When something last moved, and who moved it. */
export const LastMoved = z.object({ at: Instant, by: z.string() });
export type LastMoved = z.infer<typeof LastMoved>;

/** A place among those beside it, with what is below it. */
export const PlaceNode = PlaceBrief.extend({
  nicknames: z.string(),
  /** how many places stand in it, and in those, all the way down */
  placesBelow: z.number().int(),
  /** how many things lie in those */
  thingsBelow: z.number().int(),
  isClosed: z.boolean(),
});
export type PlaceNode = z.infer<typeof PlaceNode>;

/** The places that stand in one, or at the top: 2 before 10. */
export const PlaceLevel = z.object({ places: z.array(PlaceNode) });
export const PlaceLevelQuery = z.strictObject({
  within: Id.optional().describe('the place that they stand in; left out: those that stand in none'),
});

/** A place on its shelf: as many of its things as are seen from in front. */
export const ShelfPlace = PlaceNode.extend({ things: z.array(LyingThing) });
export type ShelfPlace = z.infer<typeof ShelfPlace>;

export const PlacePage = PlaceBrief.extend({
  nicknames: z.string(),
  version: z.number().int(),
  isClosed: z.boolean(),
  /** null where it was never closed */
  closed: z.object({ at: Instant, by: z.string() }).nullable(),
  children: z.array(ShelfPlace),
  contents: z.array(LyingThing.extend({ lastMoved: LastMoved.nullable() })),
});
export type PlacePage = z.infer<typeof PlacePage>;

/** What a place is called and what it is. Its code stays. */
export const EditPlace = z.strictObject({ name: RequiredText, kind: PlaceKind, nicknames: ShortText.default('') });
export type EditPlace = z.infer<typeof EditPlace>;

/** It is carried to another place, with all that lies and stands in it; null: it stands by itself. */
export const CarryPlace = z.strictObject({ parentId: Id.nullable() });
export type CarryPlace = z.infer<typeof CarryPlace>;

export const ChangePlaceClosed = z.strictObject({});

export const PlaceCarried = z.object({
  act: z.literal('carried'),
  place: PlaceBrief,
  /** where it stood before; null: by itself */
  before: z.object({ id: Id, path: z.string() }).nullable(),
  words: z.string(),
});
export type PlaceCarried = z.infer<typeof PlaceCarried>;

/** Everything that lies in one place goes to another, in one act. */
export const MoveContents = z.strictObject({ fromPlaceId: Id, toPlaceId: Id, occurredAt: Instant.optional() });
export type MoveContents = z.infer<typeof MoveContents>;

export const ContentsMoved = z.object({
  actId: Id,
  act: z.literal('moved together'),
  from: Coded,
  to: Coded,
  moved: z.number().int(),
  /** what stayed where it was, and why */
  stayed: z.array(Coded.extend({ why: z.string() })),
  words: z.string(),
});
export type ContentsMoved = z.infer<typeof ContentsMoved>;

/** A thing that is not counted among its like. */
export const AlikeQuery = z.strictObject({ besides: Id.optional() });
/** Where things like this one lie, and an empty bin near them; empty where there is nothing to say. */
export const AlikeLie = z.object({
  words: z.string(),
  /** where one more may be put: the place where most of them lie, then the empty bin */
  places: z.array(z.object({ id: Id, path: z.string() })),
});
export type AlikeLie = z.infer<typeof AlikeLie>;

const rankOfKind: Readonly<Record<PlaceKind, number>> = { site: 0, area: 1, quarantine: 1, rack: 2, bin: 3, tray: 4 };

/** Whether a place of one kind may stand in one of another: what is smaller in what is larger, and nothing in a tray. */
export function mayStandIn(kind: PlaceKind, around: PlaceKind): boolean {
  if (around === 'tray') return false;
  if (kind === 'quarantine') return true;
  return rankOfKind[kind] >= rankOfKind[around];
}
