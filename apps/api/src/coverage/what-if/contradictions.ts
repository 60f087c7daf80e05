import type { Supposition } from '@corewright/contracts/what-if';
import type { Refusal } from '../../platform/refusal.js';

/** Why something cannot be supposed, in words. */
export function cannotSuppose(detail: string): Refusal {
  return { status: 409, code: 'cannot-be-supposed', title: 'That cannot be supposed', detail };
}

/** The one thing that a supposition is about: two of the same contradict each other. */
function aboutWhat(supposition: Supposition): string {
  switch (supposition.kind) {
    case 'first':
      return `first ${supposition.jobId}`;
    case 'standard':
      return `standard ${supposition.jobId}`;
    case 'core':
      return `core ${supposition.unitId}`;
    case 'order-late':
    case 'order-on':
    case 'order-never':
      return `order ${supposition.receiptId}`;
    case 'instead':
      return `instead ${supposition.lineId} ${supposition.partId}`;
    case 'instead-everywhere':
      return `everywhere ${supposition.forPartId} ${supposition.partId}`;
  }
}

/** Why these cannot be supposed together; null when they can. */
export function whyNotTogether(suppositions: readonly Supposition[]): Refusal | null {
  const about = suppositions.map(aboutWhat);
  if (new Set(about).size === about.length) return null;
  return cannotSuppose('Two of these are about the same thing. Take one of them away, and ask again.');
}

/** Parts that are to be thought of although no line may ask for them yet. */
export function partsBeside(suppositions: readonly Supposition[]): string[] {
  return suppositions.flatMap((each) => (each.kind === 'instead' || each.kind === 'instead-everywhere' ? [each.partId] : []));
}
