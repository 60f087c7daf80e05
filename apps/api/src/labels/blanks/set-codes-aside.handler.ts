import type { CodeBlock, SetCodesAside } from '@corewright/contracts/labels';
import { Injectable } from '@nestjs/common';
import type * as z from 'zod';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { badInput, done, invariant, type Result, refused } from '../../platform/refusal.js';
import { setCodesAside } from '../../scanning/code-register.js';
import { codeBlock, letterOf } from './code-block.queries.js';

const insertBlock = `
  INSERT INTO code_blocks (id, command_key, kind, person_id) VALUES ($1, $2, $3, $4) ON CONFLICT (id) DO NOTHING RETURNING id`;

/** Sets a block of codes aside, to be printed on blank labels and claimed one by one. */
@Injectable()
export class SetCodesAsideHandler {
  async handle(transaction: Transaction, input: z.infer<typeof SetCodesAside>): Promise<Result<CodeBlock>> {
    const { key, person } = transaction.command;
    const letter = letterOf[input.kind];
    if ((await transaction.row(insertBlock, [input.id, key, letter, person.id])) === null)
      return refused(badInput('id', 'A block with this id was set aside already.'));
    await setCodesAside(transaction, letter, input.id, input.count);
    transaction.news('blank-labels');
    const block = await codeBlock(transaction, input.id);
    invariant(block, 'a block that was just set aside is there');
    return done(block);
  }
}
