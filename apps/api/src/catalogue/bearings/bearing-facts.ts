import type { BearingFacts } from '@corewright/bearings/compare-bearings';
import { type Reading, tableName } from '@corewright/bearings/read-designation';
import type { BearingDimensions } from '@corewright/contracts/bearings';

/** What is known of a bearing: the table's figures, and where it has none, those that the designation itself names. */
export function factsOf(reading: Reading, row: BearingDimensions | null): BearingFacts {
  return {
    reading,
    boreMm: row?.boreMm ?? reading.boreMm,
    outsideMm: row?.outsideMm ?? reading.named.outsideMm,
    widthMm: row?.widthMm ?? reading.named.widthMm,
    chamferMinMm: row?.chamferMinMm ?? null,
    ratingN: row?.ratingN ?? null,
  };
}

/** Under what the table has a bearing. An inch taper number without letters cannot be read, but the table may know it. */
export function nameInTable(reading: Reading): string {
  return tableName(reading) ?? reading.asGiven.toUpperCase().replace(/\s/g, '');
}
