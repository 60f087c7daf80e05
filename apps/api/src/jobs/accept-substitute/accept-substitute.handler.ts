import type { RelationShown } from '@corewright/contracts/relations';
import type { AcceptSubstitute, SubstituteAccepted } from '@corewright/contracts/substitutes';
import { Injectable } from '@nestjs/common';
import { keyedLength, toleranceMmUsual } from '../../catalogue/bearings/keyed-length.js';
import { differencesWhenReplaced } from '../../catalogue/bearings/part-bearings.js';
import { RecordRelationHandler } from '../../catalogue/relations/record-relation.handler.js';
import { partsNamed, relationsOfGroup } from '../../catalogue/relations/relation.queries.js';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { whyNotAcceptable } from './decide-substitute.js';
import { substituteById } from './substitute.queries.js';

interface LineRow extends Record<string, unknown> {
  lineNo: number;
  partId: string;
  waived: boolean;
  state: string;
}

const lockJob = 'SELECT 1 AS there FROM jobs WHERE id = $1 FOR NO KEY UPDATE';
const selectLine = `
  SELECT line_no AS "lineNo", part_id AS "partId", waived_reason IS NOT NULL AS waived, state
    FROM job_lines JOIN jobs ON jobs.id = job_id WHERE job_id = $1 AND job_lines.id = $2`;
const selectLive = 'SELECT 1 AS there FROM substitutes WHERE job_line_id = $1 AND part_id = $2 AND withdrawn_at IS NULL';
/** What says already that the one serves for the other, both ways or this one. */
const selectServing = `
  SELECT id, group_id AS "groupId" FROM relations
   WHERE withdrawn_at IS NULL AND NOT is_kit
     AND ((from_part_id = $1 AND to_part_id = $2 AND kind IN ('same as', 'will serve for'))
       OR (from_part_id = $2 AND to_part_id = $1 AND kind IN ('same as', 'supersession')))
   ORDER BY accepted_at LIMIT 1`;
const insert = `
  INSERT INTO substitutes (id, command_key, job_line_id, part_id, marking, bore_mm, outside_mm, width_mm, measured_read, evidence_kind,
                           evidence_words, deviation, position, relation_id, accepted_by)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15)`;

/** Accepts a part in place of what a line asks for: for this job, and where it is said, as a relation for every job. */
@Injectable()
export class AcceptSubstituteHandler {
  constructor(private readonly relations: RecordRelationHandler) {}

  async handle(
    transaction: Transaction,
    jobId: string,
    lineId: string,
    asked: AcceptSubstitute,
  ): Promise<Result<SubstituteAccepted>> {
    const measures = measuresOf(asked);
    if (!measures.ok) return measures;
    const [, line, live] = await Promise.all([
      transaction.row(lockJob, [jobId]),
      transaction.row<LineRow>(selectLine, [jobId, lineId]),
      transaction.row(selectLive, [lineId, asked.partId]),
    ]);
    if (line === null) return refused(notFound('This line'));
    const parts = await partsNamed(transaction, [line.partId, asked.partId]);
    const [wanted, part] = [parts.get(line.partId), parts.get(asked.partId)];
    invariant(wanted, 'a line asks for a part of the books');
    if (part === undefined) return refused(badInput('partId', 'That part is not in the books. Choose it from the list.'));
    const measured = measures.value;
    const refusal = whyNotAcceptable(asked, {
      job: line,
      line: { ...line, unitOfMeasure: wanted.unitOfMeasure, number: wanted.number },
      part,
      isAcceptedAlready: live !== null,
      isMeasured: Object.values(measured).some((figure) => figure !== null),
      differences: await differencesWhenReplaced(transaction, line.partId, part.id, measured, toleranceMmUsual),
    });
    if (refusal !== null) return refused(refusal);
    const relation = asked.forEveryJob ? await this.relationFor(transaction, line.partId, asked) : done(null);
    if (!relation.ok) return relation;
    return this.write(transaction, { jobId, lineId, asked, measured, relation: relation.value });
  }

  /** What stands on the record already is better evidence than saying it twice. */
  private async relationFor(
    transaction: Transaction,
    wantedId: string,
    asked: AcceptSubstitute,
  ): Promise<Result<RelationShown | null>> {
    const there = await transaction.row<{ id: string; groupId: string }>(selectServing, [asked.partId, wantedId]);
    if (there !== null) return done((await relationsOfGroup(transaction, there.groupId))[0] ?? null);
    const recorded = await this.relations.handle(transaction, asked.partId, {
      kind: 'will serve for',
      toPartIds: [wantedId],
      conditions: asked.deviation,
      since: null,
      evidence: asked.evidence,
    });
    return recorded.ok ? done(recorded.value.relations[0] ?? null) : recorded;
  }

  private async write(
    transaction: Transaction,
    { jobId, lineId, asked, measured, relation }: Accepted,
  ): Promise<Result<SubstituteAccepted>> {
    const { key, person } = transaction.command;
    transaction.send(insert, [
      asked.id,
      key,
      lineId,
      asked.partId,
      asked.marking,
      measured.boreMm,
      measured.outsideMm,
      measured.widthMm,
      measuredAsRead(asked),
      asked.evidence.kind,
      asked.evidence.words,
      asked.deviation,
      asked.position,
      relation?.id ?? null,
      person.id,
    ]);
    transaction.news(`job:${jobId}`, 'jobs', 'today', 'stores');
    const written = await substituteById(transaction, asked.id);
    invariant(written, 'a substitute that was just accepted is there');
    const { lineId: _line, ...substitute } = written;
    return done({ substitute, relation });
  }
}

interface Measures {
  boreMm: number | null;
  outsideMm: number | null;
  widthMm: number | null;
}

interface Accepted {
  jobId: string;
  lineId: string;
  asked: AcceptSubstitute;
  measured: Measures;
  relation: RelationShown | null;
}

/** "1 1/4 × ? × 5/8"; empty where nothing was measured. */
function measuredAsRead({ bore, outside, width }: AcceptSubstitute): string {
  const read = [bore, outside, width];
  return read.every((each) => each === '') ? '' : read.map((each) => each || '?').join(' × ');
}

function measuresOf({ bore, outside, width }: AcceptSubstitute): Result<Measures> {
  const boreMm = keyedLength('bore', bore);
  if (!boreMm.ok) return boreMm;
  const outsideMm = keyedLength('outside', outside);
  if (!outsideMm.ok) return outsideMm;
  const widthMm = keyedLength('width', width);
  return widthMm.ok ? done({ boreMm: boreMm.value, outsideMm: outsideMm.value, widthMm: widthMm.value }) : widthMm;
}
