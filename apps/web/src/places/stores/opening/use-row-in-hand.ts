import { useState } from 'react';
import { newKey } from '../../../api/uuid.js';
import { newRow, type RowKeyed } from './row-keyed.js';

const shelfOf = (placeId: string) => `corewright.opening.row.${placeId}`;

/** The row in hand at a shelf. Left half done, it is there again when somebody comes back on this device. */
export function useRowInHand(placeId: string): readonly [RowKeyed, (row: RowKeyed) => void] {
  const [row, setRow] = useState(() => recall(placeId) ?? newRow(newKey()));
  const put = (next: RowKeyed) => {
    setRow(next);
    try {
      localStorage.setItem(shelfOf(placeId), JSON.stringify(next));
    } catch {
      // it lasts as long as the page
    }
  };
  return [row, put];
}

function recall(placeId: string): RowKeyed | null {
  try {
    const kept = localStorage.getItem(shelfOf(placeId));
    return kept === null ? null : { ...newRow(newKey()), ...(JSON.parse(kept) as Partial<RowKeyed>) };
  } catch {
    return null;
  }
}
