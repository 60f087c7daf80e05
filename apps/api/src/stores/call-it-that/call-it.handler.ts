import type { Called, CallIt } from '@corewright/contracts/nicknames';
import { Injectable } from '@nestjs/common';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { done, notFound, type Result, refused } from '../../platform/refusal.js';
import { decideNicknames } from './decide-nicknames.js';

const kinds = {
  part: {
    called: 'That part',
    lock: 'SELECT nicknames FROM parts WHERE id = $1 FOR NO KEY UPDATE',
    update: 'UPDATE parts SET nicknames = $2, version = version + 1 WHERE id = $1',
  },
  place: {
    called: 'That place',
    lock: 'SELECT nicknames FROM places WHERE holder_id = $1 FOR NO KEY UPDATE',
    update: 'UPDATE places SET nicknames = $2 WHERE holder_id = $1',
  },
} as const;

/** Somebody says what the workshop calls a part or a place, so that it is found by that. */
@Injectable()
export class CallItHandler {
  async handle(transaction: Transaction, kind: keyof typeof kinds, id: string, asked: CallIt): Promise<Result<Called>> {
    const { called, lock, update } = kinds[kind];
    const row = await transaction.row<{ nicknames: string }>(lock, [id]);
    if (row === null) return refused(notFound(called));
    const decided = decideNicknames(row.nicknames, asked);
    if (!decided.ok) return decided;
    if (decided.value !== row.nicknames) {
      transaction.send(update, [id, decided.value]);
      transaction.news('stores');
    }
    return done({ id, nicknames: decided.value });
  }
}
