import type { ShelfState } from '@corewright/contracts/opening-stock';
import styles from './Opening.module.css';

const STATES: Readonly<Record<ShelfState, { readonly shape: string; readonly words: string }>> = {
  done: { shape: '■', words: 'in the books' },
  begun: { shape: '◧', words: 'begun' },
  'not yet': { shape: '□', words: 'not yet' },
};

/** How far a place is, as a shape and in words. */
export function ShelfStateWord({ state }: { readonly state: ShelfState }) {
  return (
    <span className={styles.state}>
      <span aria-hidden="true">{STATES[state].shape}</span> {STATES[state].words}
    </span>
  );
}
