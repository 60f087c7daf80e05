import type { EntryStruck } from '@corewright/contracts/counting';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';
import { codeOf, thingFacts, thingName } from '../../stores/place-words.js';
import { lockOpenCount } from '../open-count.js';

const selectEntry = `
  SELECT count_id AS "countId", person_id AS "personId", things.id AS "thingId", ${codeOf('things.id')} AS code, ${thingName} AS name,
         EXISTS (SELECT FROM count_entry_strikes WHERE entry_id = count_entries.id) AS struck
    FROM count_entries JOIN things ON things.id = count_entries.thing_id ${thingFacts} WHERE count_entries.id = $1`;
const insertStrike = 'INSERT INTO count_entry_strikes (entry_id, command_key, person_id) VALUES ($1, $2, $3)';

interface EntryRow extends Record<string, unknown> {
  countId: string;
  personId: string;
  thingId: string;
  code: string;
  name: string;
  struck: boolean;
}

/** It was scanned by mistake: the entry counts no longer, and stays on the record. */
@Injectable()
export class StrikeEntryHandler {
  async handle(transaction: Transaction, entryId: string): Promise<Result<EntryStruck>> {
    const found = await transaction.row<EntryRow>(selectEntry, [entryId]);
    if (found === null) return refused(notFound('This entry'));
    const count = await lockOpenCount(transaction, found.countId, 'alone');
    if (!count.ok) return count;
    const entry = (await transaction.row<EntryRow>(selectEntry, [entryId])) ?? found;
    const { person, key } = transaction.command;
    if (entry.struck)
      return refused({
        status: 409,
        code: 'struck-already',
        title: 'Struck out already',
        detail: 'This entry was struck out before. Nothing was changed.',
      });
    if (entry.personId !== person.id && person.role === 'bench')
      return refused({
        status: 403,
        code: 'not-your-entry',
        title: 'Another person’s entry',
        detail: 'Whoever counted it strikes it out, or somebody who keeps the books. Nothing was changed.',
      });
    await transaction.rows(insertStrike, [entryId, key, person.id]);
    transaction.news('counts');
    const thing = { id: entry.thingId, code: entry.code, name: entry.name };
    return done({ act: 'count struck', thing, words: `${entry.name}: that scan counts no longer.` });
  }
}
