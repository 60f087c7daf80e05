import { useState } from 'react';
import { closed, noForm, type OneForm, opened } from './one-form.js';

export interface FormInHand<Which> {
  /** null: none is open */
  readonly which: Which | null;
  readonly open: (which: Which) => void;
  /**
   * Closes the form that stood open when this was handed to it. A form that was sent and left is answered late: what was
   * opened meanwhile stays. So a form has its sending of its own, and is not sent by what it stands in.
   */
  readonly close: () => void;
}

/** Of several forms one at a time is open. */
export function useOneForm<Which>(): FormInHand<Which> {
  const [{ which, turn }, setNow] = useState<OneForm<Which>>(noForm);
  return {
    which,
    open: (next) => setNow((now) => opened(now, next)),
    close: () => setNow((now) => closed(now, turn)),
  };
}
