import type { Refusal } from '../../platform/refusal.js';

/** Of a photograph that has not arrived as it was sent. */
export function notWhole(received: number): Refusal {
  return {
    status: 409,
    code: 'upload-not-whole',
    title: 'Not all of it has arrived',
    detail: `The photograph has not arrived as it was sent. Send it from byte ${received} on, then keep it with a new key.`,
    values: { received },
  };
}
