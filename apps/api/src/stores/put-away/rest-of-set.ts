import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { Reader } from '../../platform/database/database.js';
import { bearerOfCode } from '../ledger.js';
import { codeOf, holderWords } from '../place-words.js';

export interface Fellow {
  code: string;
  holderId: string | null;
  where: string;
}

const selectFellows = `
  SELECT ${codeOf('fellows.thing_id')} AS code, lying.holder_id AS "holderId", coalesce(lying.words, 'nowhere by the books') AS where
    FROM kept_set_members AS own
    JOIN kept_set_members AS fellows ON fellows.set_id = own.set_id AND fellows.bound AND fellows.thing_id <> own.thing_id
    LEFT JOIN LATERAL (
      SELECT holders.id AS holder_id, ${holderWords('holders.id', 'holders.kind')} AS words FROM balances JOIN holders ON holders.id = holder_id
       WHERE balances.thing_id = fellows.thing_id AND quantity > 0 ORDER BY counts DESC, quantity DESC LIMIT 1) AS lying ON true
   WHERE own.thing_id = ${bearerOfCode} AND own.bound ORDER BY fellows.joined_at, fellows.thing_id`;

/** What is bound in one kept set with the thing that bears a code, and where each lies. */
export function restOfSet(reader: Reader, code: string): Promise<Fellow[]> {
  return reader.rows<Fellow & Record<string, unknown>>(selectFellows, [code]);
}

/** Says where the rest of a set lies that does not lie in this place; null where all of it does. */
export function sayRestOfSet(fellows: readonly Fellow[], placeId: string): string | null {
  const apart = fellows.filter(({ holderId }) => holderId !== placeId);
  if (apart.length === 0) return null;
  return `It belongs to a kept set; the rest of it: ${apart.map(({ code, where }) => `${formatCode(code as LabelCode)} in ${where}`).join('; ')}.`;
}
