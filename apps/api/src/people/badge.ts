import { makeCode } from '@corewright/codes/label-code';
import type { Reader } from '../platform/database/database.js';

const nextSerial = `SELECT nextval('code_serial_b') AS serial`;
const insertCode = `INSERT INTO codes (code, kind, subject_id) VALUES ($1, 'B', $2)`;

/** Gives a person the code of their badge. People come before scanning, so they draw from the badges' numbers themselves. */
export async function giveBadge(transaction: Reader, personId: string): Promise<string> {
  const row = await transaction.row<{ serial: number }>(nextSerial);
  const code = makeCode('B', row!.serial);
  await transaction.rows(insertCode, [code, personId]);
  return code;
}
