import type { EditGrade, Grade } from '@corewright/contracts/catalogue';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { whyNotCurrent } from '../../platform/commands/version-seen.js';
import { done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { decideGrade, type Ranked } from './decide-grade.js';
import { allGrades, bearersOfGrade } from './grade.queries.js';

/** One edit of the scales at a time: the ranks of a scale move together. */
const lockScales = 'LOCK TABLE grades IN SHARE ROW EXCLUSIVE MODE';
/** Waits for whoever is giving something this grade, and keeps it from being given until the edit is through. */
const lockGrade = 'SELECT 1 AS there FROM grades WHERE id = $1 FOR UPDATE';
const rankAfterAll = 'SELECT coalesce(max(rank), 0) + 1 AS rank FROM grades WHERE scale = $1';
const insert = 'INSERT INTO grades (id, scale, letter, rank, meaning, retired) VALUES ($1, $2, $3, $4, $5, $6)';
const update = 'UPDATE grades SET letter = $2, meaning = $3, retired = $4, version = version + 1 WHERE id = $1';
/** Whoever has another grade of the scale open is told that its rank moved. */
const moveOthers = `
  UPDATE grades SET rank = ranked.rank, version = version + CASE WHEN grades.id = $3 THEN 0 ELSE 1 END
    FROM unnest($1::uuid[], $2::smallint[]) AS ranked (id, rank)
   WHERE grades.id = ranked.id AND grades.rank <> ranked.rank`;

@Injectable()
export class EditGradeHandler {
  /** A grade that is new, without If-Match, or one that is changed, with the version that was seen. */
  async handle(transaction: Transaction, id: string, input: EditGrade): Promise<Result<Grade>> {
    await transaction.rows(lockScales);
    await transaction.row(lockGrade, [id]);
    const grades = await allGrades(transaction);
    const before = grades.find((grade) => grade.id === id) ?? null;
    if (before === null && transaction.command.versionSeen !== null) return refused(notFound('That grade'));
    const unseen = before === null ? null : whyNotCurrent(transaction.command, before);
    if (unseen !== null) return refused(unseen);
    const others = grades.filter((grade) => grade.id !== id && grade.scale === input.scale);
    const borneBy = before === null ? '' : await bearersOfGrade(transaction, before.scale, before.letter);
    const decided = decideGrade(id, { before, others, borneBy, input });
    if (!decided.ok) return decided;
    await write(transaction, id, input, before === null, decided.value);
    transaction.news('settings', 'stores', 'loads', 'strip-downs');
    const after = (await allGrades(transaction)).find((grade) => grade.id === id);
    invariant(after, 'a grade that was just written is there');
    return done(after);
  }
}

async function write(
  transaction: Transaction,
  id: string,
  { scale, letter, meaning, retired }: EditGrade,
  isNew: boolean,
  ranks: readonly Ranked[],
): Promise<void> {
  if (isNew) {
    const last = await transaction.row<{ rank: number }>(rankAfterAll, [scale]);
    await transaction.rows(insert, [id, scale, letter, last?.rank ?? 1, meaning, retired]);
  } else await transaction.rows(update, [id, letter, meaning, retired]);
  await transaction.rows(moveOthers, [ranks.map((each) => each.id), ranks.map((each) => each.rank), id]);
}
