import { type LabelCode, makeCode } from '@corewright/codes/label-code';
import { commandCards } from '@corewright/contracts/scanning';
import { Injectable, type OnModuleInit } from '@nestjs/common';
import { Database } from '../platform/database/database.js';

/** The same ids in every workshop, so that a card printed before a backup was restored is still the card that it was. */
function subjectIdOf(serial: number): string {
  return `00000000-0000-7000-8000-0000000c${String(serial).padStart(4, '0')}`;
}

export const commandCodes: readonly LabelCode[] = commandCards.map((_, index) => makeCode('K', index + 1));

const insertCodes = `
  INSERT INTO codes (code, kind, subject_id) SELECT code, 'K', id FROM unnest($1::text[], $2::uuid[]) AS cards (code, id)
  ON CONFLICT (code) DO NOTHING`;

/** Command cards bear codes like everything that is scanned; they are in the register from the first start on. */
@Injectable()
export class CommandCodes implements OnModuleInit {
  constructor(private readonly database: Database) {}

  async onModuleInit(): Promise<void> {
    await this.database.rows(insertCodes, [commandCodes, commandCodes.map((_, index) => subjectIdOf(index + 1))]);
  }
}
