import { formatCode } from '@corewright/codes/label-code';
import { decimalFrom } from '@corewright/quantities/decimal';
import type { Transaction } from '../../platform/commands/unit-of-work.js';
import { type Result, refused } from '../../platform/refusal.js';
import { readCode, whyNothingOpens } from '../../scanning/resolve-code.js';
import { codeOf } from '../../stores/place-words.js';
import type { StripDownUnderWay } from '../lock-strip-down.js';
import type { FindingPlan } from './decide-finding.js';
import { type GoesOn, undoFinding } from './put-right.js';

interface Tagged extends Record<string, unknown> {
  id: string;
  unitId: string;
  unitCode: string;
  position: number;
  name: string;
  pieces: number;
}

const byCode = `
  SELECT thing_id AS id, unit_id AS "unitId", ${codeOf('unit_id')} AS "unitCode", position, components.name, pieces
    FROM codes JOIN components ON thing_id = subject_id WHERE code = $1 AND voided_at IS NULL`;

/** A component that was taken off this unit before, by its tag: it goes on with it. A component comes out of one unit only. */
export async function taggedBefore(
  transaction: Transaction,
  strip: StripDownUnderWay,
  plan: FindingPlan,
  keyed: string,
): Promise<Result<GoesOn | null>> {
  const read = readCode(keyed, ['C']);
  if (!read.ok) return read;
  const tag = await transaction.row<Tagged>(byCode, [read.value.code]);
  if (tag === null) return refused(await whyNothingOpens(transaction, read.value));
  const spoken = formatCode(read.value.code);
  if (tag.unitId !== strip.unit.id)
    return refused({
      status: 409,
      code: 'component-of-another-unit',
      title: 'It came out of another unit',
      detail: `${spoken}, ${tag.name}, came out of ${tag.unitCode}, and a component comes out of one unit only. Take the tag off and look which of the two it is. Nothing was changed.`,
      values: { code: read.value.code, unit: tag.unitCode },
    });
  if (tag.position !== plan.position)
    return refused({
      status: 409,
      code: 'another-component',
      title: 'Another component',
      detail: `${spoken} is number ${tag.position} of this unit, ${tag.name}. Record it there. Nothing was changed.`,
      values: { position: tag.position },
    });
  const asItWas = { ...plan, thingId: tag.id, quantity: decimalFrom(String(tag.pieces)) };
  return undoFinding(transaction, strip, { ...emptyFinding, ...asItWas, id: tag.id }, plan);
}

const emptyFinding = { kind: 'as expected', finding: '', words: '', disposition: null, lookedAt: false, stamped: '' } as const;
