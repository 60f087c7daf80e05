import type { RecordRelation, RelationKind } from '@corewright/contracts/relations';
import { parsePlainDate } from '@corewright/quantities/plain-date';
import { badInput, type Refusal } from '../../platform/refusal.js';
import { whyNotYet } from '../day-of-record.js';

/** A part as the decision needs it. */
export interface RelatedPart {
  id: string;
  name: string;
  number: string;
  unitOfMeasure: string;
}

/** A live relation between the two ends, or a live supersession of the first. */
export interface LiveRelation {
  kind: RelationKind;
  fromId: string;
  toId: string;
  toNumber: string;
}

/** A live supersession somewhere after one of the parts that are to supersede. */
export interface LaterStep {
  fromId: string;
  toId: string;
  toNumber: string;
}

export interface RelationFacts {
  from: RelatedPart;
  to: readonly RelatedPart[];
  live: readonly LiveRelation[];
  later: readonly LaterStep[];
  today: string;
}

/** Why a relation may not be recorded; null when it may. */
export function whyNotRelated(asked: RecordRelation, facts: RelationFacts): Refusal | null {
  return whyNotShaped(asked, facts) ?? whyNotDated(asked, facts.today) ?? whyNotNew(asked, facts) ?? whyCircle(asked, facts);
}

function whyNotShaped(asked: RecordRelation, { from, to }: RelationFacts): Refusal | null {
  if (asked.toPartIds.includes(from.id))
    return badInput('toPartIds', `${from.number} cannot be related to itself. Choose another part.`);
  if (new Set(asked.toPartIds).size < asked.toPartIds.length)
    return badInput('toPartIds', 'One part is named twice. Name each part of a kit once.');
  if (asked.kind !== 'supersession' && asked.toPartIds.length > 1)
    return badInput(
      'toPartIds',
      'Only a supersession names several parts, which take the place of one together. Record each by itself.',
    );
  if (asked.kind !== 'supersession' && asked.since !== null)
    return badInput('since', 'Only a supersession has a date. Leave it empty, or say it among the conditions.');
  const other = to.find((part) => part.unitOfMeasure !== from.unitOfMeasure);
  if (asked.kind === 'same as' && other)
    return {
      status: 409,
      code: 'counted-otherwise',
      title: 'Counted otherwise',
      detail: `${from.number} is counted in ${from.unitOfMeasure} and ${other.number} in ${other.unitOfMeasure}: they cannot be the same. Put one of the parts right, or say that one will serve for the other.`,
    };
  return null;
}

function whyNotDated({ since }: RecordRelation, today: string): Refusal | null {
  if (since === null) return null;
  if (since.length === 10) {
    const parsed = parsePlainDate(since);
    if (!parsed.ok) return badInput('since', parsed.error.sentence);
  }
  return whyNotYet('since', since, today);
}

function whyNotNew(asked: RecordRelation, { from, to, live }: RelationFacts): Refusal | null {
  const ids = new Set(to.map((part) => part.id));
  const there = live.find(
    (relation) =>
      relation.kind === asked.kind &&
      ((relation.fromId === from.id && ids.has(relation.toId)) || (relation.kind === 'same as' && ids.has(relation.fromId))),
  );
  if (there)
    return {
      status: 409,
      code: 'related-already',
      title: 'Recorded already',
      detail: `That is on the record already. If there is better evidence now, withdraw the relation that stands and record it anew.`,
    };
  const became = live.filter((relation) => relation.kind === 'supersession' && relation.fromId === from.id);
  if (asked.kind !== 'supersession' || became.length === 0) return null;
  return {
    status: 409,
    code: 'superseded-already',
    title: 'Superseded already',
    detail: `${from.number} is superseded by ${became.map((relation) => relation.toNumber).join(' with ')}. A number has one successor, which may be a kit: withdraw that first, or record what became of the successor.`,
  };
}

/** A number that would come to supersede itself; the circle is named from its beginning to its beginning. */
function whyCircle(asked: RecordRelation, { from, to, later }: RelationFacts): Refusal | null {
  if (asked.kind !== 'supersession') return null;
  for (const part of to) {
    const way = wayBack(part, from.id, later);
    if (way === null) continue;
    const circle = [from.number, ...way];
    return {
      status: 409,
      code: 'supersession-cycle',
      title: 'That goes in a circle',
      detail: `${from.number} would come to supersede itself: ${circle.join(', then ')}. One of these steps is wrong: withdraw it, or turn this one round.`,
      values: { cycle: circle },
    };
  }
  return null;
}

function wayBack(start: RelatedPart, goalId: string, later: readonly LaterStep[]): string[] | null {
  const seen = new Set([start.id]);
  const queue = [{ id: start.id, way: [start.number] }];
  for (const here of queue) {
    if (here.id === goalId) return here.way;
    for (const step of later) {
      if (step.fromId !== here.id || seen.has(step.toId)) continue;
      seen.add(step.toId);
      queue.push({ id: step.toId, way: [...here.way, step.toNumber] });
    }
  }
  return null;
}
