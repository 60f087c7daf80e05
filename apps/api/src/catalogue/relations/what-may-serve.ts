import type { ServingWay } from '@corewright/contracts/build-standards';
import type { RelationKind, ServesAs, WhyNot } from '@corewright/contracts/relations';

/** A relation as far as the question needs it. */
export interface Link {
  id: string;
  groupId: string;
  kind: RelationKind;
  fromId: string;
  toId: string;
  isKit: boolean;
  isWithdrawn: boolean;
}

export interface Candidate<L extends Link = Link> {
  partId: string;
  as: ServesAs;
  /** from the part that is wanted to this one */
  path: readonly L[];
  /** of a kit, what must be fitted together with it */
  together: readonly string[];
}

export interface RefusedPart<L extends Link = Link> {
  partId: string;
  why: WhyNot;
  path: readonly L[];
}

/** By which ways somebody goes who follows relations: each must be one that is taken. */
export function waysOf(path: readonly Link[]): ServingWay[] {
  return path.map(({ kind }) => (kind === 'supersession' ? 'superseding' : kind));
}

export interface Served<L extends Link = Link> {
  candidates: Candidate<L>[];
  refused: RefusedPart<L>[];
}

/**
 * What may be fitted in place of a part, the plainest way to each first: itself, what is the same, what it became, what will serve
 * for one of these, what replaces one of these only as a kit. Each part is reached once, so this ends on any graph.
 */
export function whatMayServe<L extends Link>(wantedId: string, links: readonly L[]): Served<L> {
  const touching = byPart(links);
  const reached = new Map<string, Candidate<L>>([[wantedId, { partId: wantedId, as: 'itself', path: [], together: [] }]]);
  spread(reached, touching, ['same as']);
  spread(reached, touching, ['same as', 'supersession']);
  const ends = new Map<string, Candidate<L>>();
  const add = (candidate: Candidate<L>) => {
    if (!reached.has(candidate.partId) && !ends.has(candidate.partId)) ends.set(candidate.partId, candidate);
  };
  for (const from of reached.values()) for (const candidate of serversOf(from, touching)) add(candidate);
  for (const from of reached.values()) for (const candidate of kitsOf(from, touching)) add(candidate);
  return { candidates: [...reached.values(), ...ends.values()], refused: refusedBeside(reached, ends, touching) };
}

type Touching<L> = ReadonlyMap<string, readonly L[]>;

function byPart<L extends Link>(links: readonly L[]): Touching<L> {
  const touching = new Map<string, L[]>();
  const file = (partId: string, link: L) => {
    const before = touching.get(partId);
    if (before) before.push(link);
    else touching.set(partId, [link]);
  };
  for (const link of links) {
    file(link.fromId, link);
    if (link.toId !== link.fromId) file(link.toId, link);
  }
  return touching;
}

/** Where a relation leads from a part in search of what serves; null where it leads nowhere that way. */
function onward(link: Link, partId: string): string | null {
  if (link.kind === 'same as') return link.fromId === partId ? link.toId : link.fromId;
  if (link.kind === 'supersession') return link.fromId === partId ? link.toId : null;
  return link.toId === partId ? link.fromId : null;
}

/** Follows relations of these kinds as far as they go. A kit is no way on: what serves for a piece of it serves for that piece. */
function spread<L extends Link>(reached: Map<string, Candidate<L>>, touching: Touching<L>, kinds: readonly RelationKind[]): void {
  const queue = [...reached.values()];
  for (const here of queue) {
    for (const link of touching.get(here.partId) ?? []) {
      if (link.isWithdrawn || link.isKit || !kinds.includes(link.kind)) continue;
      const partId = onward(link, here.partId);
      if (partId === null || reached.has(partId)) continue;
      const as = link.kind === 'supersession' || here.as === 'superseding' ? 'superseding' : 'same as';
      const next: Candidate<L> = { partId, as, path: [...here.path, link], together: [] };
      reached.set(partId, next);
      queue.push(next);
    }
  }
}

function serversOf<L extends Link>(from: Candidate<L>, touching: Touching<L>): Candidate<L>[] {
  return (touching.get(from.partId) ?? [])
    .filter((link) => !link.isWithdrawn && link.kind === 'will serve for' && link.toId === from.partId)
    .map((link) => ({ partId: link.fromId, as: 'will serve for', path: [...from.path, link], together: [] }));
}

function kitsOf<L extends Link>(from: Candidate<L>, touching: Touching<L>): Candidate<L>[] {
  const pieces = (touching.get(from.partId) ?? []).filter(
    (link) => !link.isWithdrawn && link.isKit && link.fromId === from.partId,
  );
  return pieces.map((link) => ({
    partId: link.toId,
    as: 'in a kit',
    path: [...from.path, link],
    together: pieces.filter((other) => other.groupId === link.groupId && other !== link).map((other) => other.toId),
  }));
}

/** What somebody would think of next and must not fit on this evidence alone, each with the first reason found. */
function refusedBeside<L extends Link>(
  reached: ReadonlyMap<string, Candidate<L>>,
  ends: ReadonlyMap<string, Candidate<L>>,
  touching: Touching<L>,
): RefusedPart<L>[] {
  const refused = new Map<string, RefusedPart<L>>();
  const look = (from: Candidate<L>, reason: (link: L, partId: string) => WhyNot | null) => {
    for (const link of touching.get(from.partId) ?? []) {
      const partId = link.fromId === from.partId ? link.toId : link.fromId;
      const why = reached.has(partId) || ends.has(partId) || refused.has(partId) ? null : reason(link, from.partId);
      if (why !== null) refused.set(partId, { partId, why, path: [...from.path, link] });
    }
  };
  for (const from of reached.values()) look(from, againstTheWay);
  for (const from of ends.values()) if (from.as === 'will serve for') look(from, pastTheEnd);
  for (const from of reached.values()) look(from, withdrawn);
  return [...refused.values()];
}

function againstTheWay(link: Link, partId: string): WhyNot | null {
  if (link.isWithdrawn || onward(link, partId) !== null) return null;
  return link.kind === 'supersession' ? 'older' : 'one way';
}

function pastTheEnd(link: Link, partId: string): WhyNot | null {
  if (link.isWithdrawn || onward(link, partId) === null) return null;
  return link.kind === 'will serve for' ? 'second will serve for' : 'beyond will serve for';
}

function withdrawn(link: Link, partId: string): WhyNot | null {
  return link.isWithdrawn && onward(link, partId) !== null ? 'withdrawn' : null;
}
