import { coverLost } from './cover-lost.js';
import { dateInDanger } from './date-in-danger.js';
import { orderLate, orderPutBack } from './orders.js';
import { pastStorageLife } from './past-storage-life.js';
import { reservationEnds } from './reservation-ends.js';
import { takenByAnother } from './taken-by-another.js';
import { twoWantTheLast } from './two-want-the-last.js';
import type { Watch } from './watch.js';

/** Everything that is watched for. Another kind is another of these, and a word in `warningKinds`. */
export const watches: readonly Watch[] = [
  coverLost,
  orderLate,
  orderPutBack,
  dateInDanger,
  pastStorageLife,
  twoWantTheLast,
  reservationEnds,
  takenByAnother,
];
