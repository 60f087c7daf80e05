import { outboundQueue } from './outbound-queue.js';

/** Scans and the decisions on them, in the order in which they were made. */
export const queue = outboundQueue({ name: 'corewright-queue', order: 'in order', doneKept: 50, requestMilliseconds: 20_000 });
