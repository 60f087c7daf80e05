import type { PartNamed } from '@corewright/contracts/relations';
import type { Supposition } from '@corewright/contracts/what-if';
import { type PartKnown, partsNamed } from '../../catalogue/relations/relation.queries.js';
import { whyNotAcceptable } from '../../jobs/accept-substitute/decide-substitute.js';
import type { SubstituteOfLine } from '../../jobs/accept-substitute/substitute.queries.js';
import { spoken } from '../../jobs/job.queries.js';
import type { Reader } from '../../platform/database/database.js';
import { done, invariant, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import type { LineFacts, WorkshopFacts } from '../coverage-facts.js';
import { cannotSuppose } from './contradictions.js';
import type { Resolved } from './suppositions.js';

type Instead = Extract<Supposition, { kind: 'instead' | 'instead-everywhere' }>;

/** Another part in place of what one line asks for, or every open line that asks for a part. */
export async function insteadOf(reader: Reader, facts: WorkshopFacts, supposition: Instead): Promise<Result<Resolved>> {
  const lines =
    supposition.kind === 'instead'
      ? facts.lines.filter(({ id }) => id === supposition.lineId)
      : facts.lines.filter(({ partId, waived }) => partId === supposition.forPartId && waived === null);
  const [first] = lines;
  if (first === undefined)
    return refused(
      supposition.kind === 'instead'
        ? cannotSuppose('That line is not one of an open job. Choose a line again.')
        : cannotSuppose('No open job asks for that part, so nothing can take its place. Choose a part that a line asks for.'),
    );
  const parts = await partsNamed(reader, [first.partId, supposition.partId]);
  const [wanted, part] = [parts.get(first.partId), parts.get(supposition.partId)];
  invariant(wanted, 'a line asks for a part of the books');
  if (part === undefined) return refused(notFound('That part'));
  const refusals = lines.map((line) => whyNot(line, facts, wanted, part));
  const accepted = lines.filter((_, index) => refusals[index] === null);
  if (accepted.length === 0) return refused(cannotSuppose(refusals.find((each) => each !== null)?.detail ?? ''));
  const where = supposition.kind === 'instead' ? whichLine(first, facts) : `every open line that asks for ${nameOf(wanted)}`;
  return done({
    substitutes: accepted.map(({ id }) => supposedFor(id, part)),
    words: `${nameOf(part)} is accepted for ${where}`,
  });
}

/** What a person would be refused when they accept it; in what the two differ is theirs to say then. */
function whyNot(line: LineFacts, { substitutes }: WorkshopFacts, wanted: PartKnown, part: PartKnown): Refusal | null {
  return whyNotAcceptable(
    { evidence: { kind: 'told', words: 'supposed' }, deviation: '' },
    {
      job: { state: 'open' },
      line: { ...line, waived: line.waived !== null, unitOfMeasure: wanted.unitOfMeasure, number: nameOf(wanted) },
      part: { ...part, number: nameOf(part) },
      isAcceptedAlready: substitutes.some((each) => each.lineId === line.id && each.part.id === part.id),
      isMeasured: false,
      differences: [],
    },
  );
}

function nameOf({ number, name }: PartNamed): string {
  return number === '' ? name : number;
}

function whichLine({ jobId, lineNo, number, name }: LineFacts, { jobs }: WorkshopFacts): string {
  const job = jobs.find(({ id }) => id === jobId);
  return `line ${lineNo}, ${number || name}, of job ${spoken(job?.code ?? '')}`;
}

function supposedFor(lineId: string, { id, name, number, maker }: PartKnown): SubstituteOfLine {
  return {
    id: lineId,
    lineId,
    part: { id, name, number, maker },
    marking: '',
    measured: '',
    evidence: { kind: 'told', words: 'only supposed' },
    deviation: '',
    position: '',
    relationId: null,
    acceptedBy: 'nobody yet',
    acceptedAt: '',
  };
}
