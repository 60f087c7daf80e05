import { formatCode, type LabelCode } from '@corewright/codes/label-code';
import type { Refusal } from '../../platform/refusal.js';

/** What is known of a unit that somebody wants to strip. */
export interface UnitToStrip {
  code: string;
  stage: string;
  /** held by us, in a place or a tray */
  isHere: boolean;
  /** where it is when it is not here, in words; empty where the books know nothing */
  whereElse: string;
  holderKind: string | null;
  isBeingStripped: boolean;
  /** those that have laid it by, but for the job that it is stripped for */
  laidByFor: readonly { code: string | null; name: string }[];
  /** its own job, and the job that it is stripped for */
  ownJobId: string | null;
  forJobId: string | null;
  isCustomers: boolean;
}

/** Why a unit may not be stripped now; null when it may. Pure. */
export function whyNotBegun(unit: UnitToStrip): Refusal | null {
  if (unit.isBeingStripped)
    return refusal(
      'strip-down-begun',
      'It is being stripped',
      'Somebody has begun to strip this unit. Open it on the bench and go on there.',
    );
  if (!unit.isHere) return awayFrom(unit);
  if (unit.stage === 'stripped')
    return refusal(
      'stripped-already',
      'Stripped already',
      'This unit was stripped before, and what came out of it is in the books. Look at its record; take a single component off it from its page.',
    );
  const [other] = unit.laidByFor;
  if (other !== undefined) {
    const spoken = other.code === null ? other.name : `${formatCode(other.code as LabelCode)}, ${other.name}`;
    return refusal(
      'claimed-for-another-job',
      'Laid by for a job',
      `This unit is laid by for ${spoken}. Strip it for that job, or take it back from there first.`,
    );
  }
  if (unit.isCustomers && unit.forJobId !== null && unit.forJobId !== unit.ownJobId)
    return refusal(
      'goods-of-another-customer',
      'Not ours to strip',
      'This unit belongs to a customer, and a customer’s goods give no parts to other jobs.',
    );
  return null;
}

function awayFrom({ holderKind, whereElse }: UnitToStrip): Refusal {
  if (holderKind === 'customer')
    return refusal(
      'unit-sold',
      'It has left the workshop',
      `By the books this unit is with ${whereElse}. It would have to come back first.`,
    );
  if (holderKind === 'scrap')
    return refusal('unit-not-here', 'It was scrapped', 'By the books this unit was scrapped. Book it in again first.');
  const where = whereElse === '' ? 'not in the workshop' : `with ${whereElse}`;
  return refusal(
    'unit-not-here',
    'The unit is not here',
    `By the books this unit is ${where}. Put it away first, then strip it.`,
  );
}

function refusal(code: string, title: string, detail: string): Refusal {
  return { status: 409, code, title, detail: `${detail} Nothing was changed.` };
}
