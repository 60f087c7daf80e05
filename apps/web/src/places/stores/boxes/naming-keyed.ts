import type { NameOutOfBox } from '@corewright/contracts/boxes';
import type { z } from 'zod';
import { rowInputOf } from '../../goods-in/row-contract.js';
import { blankRow, type RowValues } from '../../goods-in/row-values.js';

/** What is keyed of something out of a box: as for a row of a load, with what the rest is called from then on. */
export interface NamingKeyed {
  readonly values: RowValues & { readonly kind: 'unit' | 'lot' };
  readonly wordsLeft: string;
}

export const nothingKeyed: NamingKeyed = { values: { ...blankRow('lot'), kind: 'lot' }, wordsLeft: '' };

/** The next thing out of a box is most often like the last: the same kind, source, make and place. */
export function afterNaming({ values }: NamingKeyed): NamingKeyed {
  const { kind, source, make, packetCondition, placeId, placeText } = values;
  return { values: { ...blankRow(kind), kind, source, make, packetCondition, placeId, placeText }, wordsLeft: '' };
}

/** As the server takes it. */
export function namingOf({ values, wordsLeft }: NamingKeyed, id: string): z.input<typeof NameOutOfBox> {
  const input = rowInputOf(values, 1);
  if (input.kind === 'unsorted') throw new Error('What is named out of a box is a unit or a lot.');
  const { position: _, ownerName: __, ...named } = input;
  return { ...named, id, wordsLeft: wordsLeft.trim() };
}
