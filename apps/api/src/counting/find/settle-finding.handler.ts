import type { CountFindingKind, CountPage, SettleCountFinding } from '@corewright/contracts/counting';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, notFound, type Result, refused } from '../../platform/refusal.js';
import { countDifferenceId, move } from '../../stores/ledger.js';
import { addUnsorted } from '../../stores/new-things.js';
import { CountPages } from '../count-page.js';
import { lockOpenCount } from '../open-count.js';

const selectFinding = `
  SELECT count_findings.id, count_id AS "countId", count_findings.place_id AS "placeId", (SELECT places.kind = 'tray' FROM places WHERE holder_id = count_findings.place_id) AS "isTray", count_findings.kind, words, quantity, number,
         EXISTS (SELECT FROM count_finding_ends WHERE finding_id = count_findings.id) AS ended
    FROM count_findings JOIN counts ON counts.id = count_id WHERE count_findings.id = $1`;
const insertEnd = `
  INSERT INTO count_finding_ends (finding_id, command_key, how, thing_id, why, person_id) VALUES ($1, $2, $3, $4, $5, $6)`;

const showTheThing = "UPDATE pictures SET shows = 'thing', version = version + 1 WHERE subject_id = $1 AND shows = 'finding'";

interface FindingRow extends Record<string, unknown> {
  countId: string;
  id: string;
  placeId: string;
  isTray: boolean;
  kind: CountFindingKind;
  words: string;
  quantity: number | null;
  number: number;
  ended: boolean;
}

/** What becomes of what bears no label: it goes on as something unsorted with a label of its own, or is left, with a reason. */
@Injectable()
export class SettleFindingHandler {
  constructor(private readonly pages: CountPages) {}

  async handle(transaction: Transaction, findingId: string, { how, why }: SettleCountFinding): Promise<Result<CountPage>> {
    const found = await transaction.row<FindingRow>(selectFinding, [findingId]);
    if (found === null) return refused(notFound('This finding'));
    const count = await lockOpenCount(transaction, found.countId, 'alone');
    if (!count.ok) return count;
    const finding = (await transaction.row<FindingRow>(selectFinding, [findingId])) ?? found;
    if (finding.ended)
      return refused({
        status: 409,
        code: 'finding-decided',
        title: 'Decided already',
        detail: 'Somebody has decided before what becomes of this. Nothing was changed.',
      });
    if (how === 'made unsorted' && finding.kind === 'in doubt')
      return refused(badInput('how', 'What is in doubt is in the books already. Say what came of it.'));
    if (how === 'made unsorted' && finding.isTray)
      return refused(
        badInput(
          'how',
          'It lies in the tray of a job, where only what was picked for it lies. Lay it into a place, and count it there.',
        ),
      );
    if (how === 'left' && why === '') return refused(badInput('why', 'Say why it is left as it is.'));
    const { key, person } = transaction.command;
    const thingId = how === 'made unsorted' ? await addFound(transaction, finding) : null;
    await transaction.rows(insertEnd, [findingId, key, how, thingId, why, person.id]);
    transaction.news('counts', 'today');
    const page = await this.pages.of(transaction, finding.countId, person);
    invariant(page, 'a locked count is there');
    return done(page);
  }
}

/**
 * Nobody has named it, so it is unsorted; its cost is not known. It goes on under the id of the finding: the photographs of the finding are the
 * thing's then, also those that still wait on somebody's phone.
 */
async function addFound(transaction: Transaction, { id, placeId, words, quantity, number }: FindingRow): Promise<string> {
  await addUnsorted(transaction, id, null, {
    words,
    pieceCount: quantity,
    note: `Found without a label of its own in count ${number}.`,
  });
  move(transaction, {
    thingId: id,
    quantity: '1',
    fromHolderId: countDifferenceId,
    toHolderId: placeId,
    reason: `count ${number}: found without a label`,
  });
  await transaction.rows(showTheThing, [id]);
  return id;
}
