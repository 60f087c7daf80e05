import type { BindSet, BreakSet, KeptSet, KeptSetList } from '@corewright/contracts/kept-sets';
import { decimalFrom, one, sumDecimals } from '@corewright/quantities/decimal';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, notFound, type Refusal, type Result, refused } from '../../platform/refusal.js';
import { readCode, whyNothingOpens } from '../../scanning/resolve-code.js';
import { ClaimantNames } from '../later-names.js';
import { lockOf, whereIs } from '../ledger.js';
import { type ThingRow, thingRow } from '../thing.queries.js';
import { keptSets, setsOfThing } from './kept-set.queries.js';
import { decideNumbers } from './set-numbers.js';
import { breakSet, lockKeptSet, writeOdd, writeSet } from './write-set.js';

interface Member {
  row: ThingRow;
  stamped: string;
}

const subjectOf = 'SELECT subject_id AS id FROM codes WHERE code = $1 AND voided_at IS NULL';
const boundIn = `
  SELECT kept_sets.words, kept_sets.number FROM kept_set_members JOIN kept_sets ON kept_sets.id = set_id WHERE thing_id = $1 AND bound`;

/** Binds parts by hand that belong together for good, or breaks a set on somebody's word. */
@Injectable()
export class KeptSetHandler {
  constructor(private readonly claimants: ClaimantNames) {}

  async bind(transaction: Transaction, input: BindSet): Promise<Result<z.infer<typeof KeptSetList>>> {
    const members = await this.membersOf(transaction, input);
    if (!members.ok) return members;
    const readings = members.value.map(({ row, stamped }) => ({ name: row.name, stamped }));
    const decided = decideNumbers(readings, input.different);
    if (!decided.ok) return decided;
    const toBind = members.value.map(({ row, stamped }) => ({ thingId: row.id, stamped }));
    const set = { words: input.words, unitId: unitOf(members.value), members: toBind };
    if (decided.value.together) await writeSet(transaction, { id: input.id, ...set }, decided.value);
    else
      await writeOdd(transaction, {
        ...set,
        onWordOf: transaction.command.person.displayName,
        why: 'The set numbers differ: they are of two sets.',
      });
    const ids = await Promise.all(toBind.map(({ thingId }) => setsOfThing(transaction, thingId)));
    return done({ sets: await keptSets(transaction, [...new Set(ids.flat())], this.claimants) });
  }

  async break(transaction: Transaction, setId: string, { onWordOf, why }: BreakSet): Promise<Result<KeptSet>> {
    const locked = await lockKeptSet(transaction, setId);
    if (locked === null) return refused(notFound('That kept set'));
    if (locked.brokenAt !== null)
      return refused({
        status: 409,
        code: 'set-broken-already',
        title: 'Broken already',
        detail: 'This set was broken before; what is left of it is odd. Nothing was changed.',
      });
    await breakSet(transaction, setId, onWordOf, why);
    const [set] = await keptSets(transaction, [setId], this.claimants);
    for (const member of set?.members ?? []) transaction.news(`thing:${member.thing.id}`);
    return set ? done(set) : refused(notFound('That kept set'));
  }

  private async membersOf(transaction: Transaction, input: BindSet): Promise<Result<Member[]>> {
    const found = new Map<string, string>();
    for (const { code, stamped } of input.members) {
      const read = readCode(code, ['L', 'C']);
      if (!read.ok) return read;
      const subject = await transaction.row<{ id: string }>(subjectOf, [read.value.code]);
      if (subject === null) return refused(await whyNothingOpens(transaction, read.value));
      if (found.has(subject.id))
        return refused(badInput('members', 'One of these was scanned twice. Scan each part of the set once.'));
      found.set(subject.id, stamped);
    }
    const members: Member[] = [];
    for (const id of [...found.keys()].sort()) {
      await lockOf(transaction, id);
      const row = await thingRow(transaction, id);
      if (row === null) return refused(notFound('That part'));
      const barred = await whyNotBound(transaction, row);
      if (barred !== null) return refused(barred);
      members.push({ row, stamped: found.get(id) ?? '' });
    }
    if (new Set(members.map(({ row }) => row.ownerId)).size > 1)
      return refused(
        badInput(
          'members',
          'These belong to different owners. A customer’s goods serve that customer alone, so they are no set.',
        ),
      );
    return done(members);
  }
}

async function whyNotBound(transaction: Transaction, row: ThingRow): Promise<Refusal | null> {
  if (row.condemned || row.keptForOwner)
    return {
      status: 409,
      code: row.condemned ? 'condemned' : 'kept-for-owner',
      title: row.condemned ? 'Condemned' : 'Kept for its owner',
      detail: `${row.name} ${row.condemned ? 'was condemned' : 'is kept for its owner'}, so it makes no set that serves. Nothing was changed.`,
    };
  const other = await transaction.row<{ words: string; number: string }>(boundIn, [row.id]);
  if (other !== null)
    return {
      status: 409,
      code: 'in-another-set',
      title: 'It belongs to a set already',
      detail: `${row.name} is bound in ${setCalled(other)}. Break that set first, with a name and a reason. Nothing was changed.`,
    };
  const ours = (await whereIs(transaction, row.id)).filter(
    (balance) => !['customer', 'supplier', 'scrap', 'count-difference', 'regrouping'].includes(balance.kind),
  );
  const pieces = sumDecimals(ours.map((balance) => decimalFrom(balance.quantity)));
  if (pieces !== one)
    return {
      status: 409,
      code: 'not-one',
      title: 'Not one piece',
      detail: `${row.name} is not one piece that we have. Put the one that belongs to the set into a lot of its own first. Nothing was changed.`,
    };
  return null;
}

/** "the worm set 1342", "the worm set". */
export function setCalled({ words, number }: { words: string; number: string }): string {
  return [`the set “${words}”`, number].filter((each) => each !== '').join(', number ');
}

function unitOf(members: readonly Member[]): string | null {
  const units = new Set(members.map(({ row }) => row.componentUnitId));
  return units.size === 1 ? ([...units][0] ?? null) : null;
}
