import type { LabelCode } from '@corewright/codes/label-code';
import type { ScanAnswer } from '@corewright/contracts/scanning';
import type { Reader } from '../platform/database/database.js';

const personByBadge = `
  SELECT people.id, display_name AS name, role FROM codes JOIN people ON people.id = subject_id
   WHERE code = $1 AND voided_at IS NULL AND active`;

/** Whose badge it is. A badge names a person; it does not sign anybody in. */
export async function openBadge(reader: Reader, code: LabelCode): Promise<ScanAnswer | null> {
  const row = await reader.row<{ id: string; name: string; role: string }>(personByBadge, [code]);
  if (!row) return null;
  return {
    code,
    kind: 'badge',
    id: row.id,
    voided: false,
    name: row.name,
    detail: row.role,
    where: '',
    quantity: '',
    free: '',
    warning: null,
    command: null,
  };
}
