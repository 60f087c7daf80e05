import type { PartNamed, RelationShown, ServesAs, WhyNot } from '@corewright/contracts/relations';
import type { Link } from './what-may-serve.js';

type Said = Pick<Link, 'kind' | 'isKit'> & { since: string | null };

/** What is called so in the books; only a part that was asked for with `partsNamed` is in them. */
export function nameIn(parts: ReadonlyMap<string, PartNamed>, partId: string): PartNamed {
  const part = parts.get(partId);
  if (part === undefined) throw new Error(`The part ${partId} of a relation is not in the books`);
  return { id: part.id, name: part.name, number: part.number, maker: part.maker };
}

/** A relation as a sentence. */
export function relationWords({ kind, isKit, since }: Said, from: PartNamed, to: PartNamed): string {
  const [one, other] = [numberOf(from), numberOf(to)];
  if (kind === 'same as') return `${one} is the same as ${other}.`;
  if (kind === 'will serve for') return `${one} will serve for ${other}.`;
  const when = since === null ? '' : ` in ${since}`;
  return isKit ? `${one} became a kit${when}; ${other} is of it.` : `${one} became ${other}${when}.`;
}

/** "48-2117 of Brantock": a number alone says little, since two makers may both have it. */
function numberOf(part: PartNamed): string {
  if (part.number === '') return part.name;
  return part.maker === '' ? part.number : `${part.number} of ${part.maker}`;
}

/** A supersession that stands. */
export interface Supersession {
  fromId: string;
  toId: string;
  isKit: boolean;
  since: string | null;
}

/** The whole way from an old number to what it is called now. */
export function successorWords(steps: readonly Supersession[], parts: ReadonlyMap<string, PartNamed>): string {
  const kit = steps.filter((step) => step.isKit);
  const single = steps
    .filter((step) => !step.isKit)
    .map((step) => relationWords({ ...step, kind: 'supersession' }, nameIn(parts, step.fromId), nameIn(parts, step.toId)));
  const first = kit[0];
  if (first === undefined) return single.join(' ');
  const when = first.since === null ? '' : ` in ${first.since}`;
  const pieces = kit.map((step) => numberOf(nameIn(parts, step.toId))).join(' and ');
  return [...single, `${numberOf(nameIn(parts, first.fromId))} became a kit${when}: ${pieces}, together.`].join(' ');
}

/** Why a part is a candidate, from the relations that lead to it. */
export function candidateWords(as: ServesAs, path: readonly RelationShown[], together: readonly PartNamed[]): string {
  if (as === 'itself') return 'The part itself.';
  const way = path.map((step) => step.words).join(' ');
  return together.length === 0 ? way : `${way} It serves only together with ${together.map(numberOf).join(' and ')}.`;
}

const reasons: Record<Exclude<WhyNot, 'withdrawn'>, string> = {
  'not by this standard': 'A job that is built so does not take that, unless somebody accepts it for the line.',
  older: 'The newer was made in place of the older; that the older serves as well is not said. Record it if there is evidence.',
  'one way': 'That is one way only: nothing says that it serves the other way about.',
  'second will serve for':
    'That would be a second “will serve for” on the way, and two such steps are no evidence for the whole. Record it for this part if there is evidence.',
  'beyond will serve for':
    'What serves in place of another does so by its own evidence, which does not speak for its like. Record it for this part if there is evidence.',
};

/** Why a part that a relation leads to is none. */
export function refusedWords(why: WhyNot, path: readonly RelationShown[]): string {
  const last = path.at(-1);
  const way = path.map((step) => step.words).join(' ');
  if (why !== 'withdrawn') return `${way} ${reasons[why]}`;
  return `${way} This was withdrawn by ${last?.withdrawn?.by ?? 'somebody'}: ${last?.withdrawn?.why ?? ''}`;
}
