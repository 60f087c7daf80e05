import type { InspectLot } from '@corewright/contracts/stores';
import { bearingInspection } from '@corewright/standards/bearing-storage';
import { inspectionExtends } from '@corewright/standards/storage-life';
import { whyNotYet } from '../../catalogue/day-of-record.js';
import { type StoredFacts, storedBearing, storedPart } from '../../catalogue/storage-life.js';
import { done, type Result, refused } from '../../platform/refusal.js';

type Keyed = Pick<InspectLot, 'inspectedOn' | 'passed'>;

/**
 * Whether an inspection may be put on the record. One that finds a lot good must be one that the standard gives something for;
 * one that finds it bad always may, whatever the age.
 */
export function decideInspection(facts: StoredFacts, { inspectedOn, passed }: Keyed, today: string): Result<null> {
  const notThen = whyNotYet('inspectedOn', inspectedOn, today);
  if (notThen !== null) return refused(notThen);
  if (!passed) return done(null);
  const bearing = storedBearing(facts);
  const given = bearing === null ? inspectionExtends(storedPart(facts), inspectedOn) : bearingInspection(bearing.packing);
  if (given.ok) return done(null);
  return refused({
    status: 409,
    code: `inspection-${given.error.code}`,
    title: 'This cannot be extended',
    detail: `${given.error.sentence} Nothing was changed. An inspection that finds it bad can be recorded, and holds it back.`,
    values: { inspectedOn },
  });
}
