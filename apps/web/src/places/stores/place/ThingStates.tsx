import type { LyingThing } from '@corewright/contracts/places';
import { classNames } from '../../../ui/class-names.js';
import styles from './Shelf.module.css';
import { statesOf } from './thing-states.js';

/** What bears on using a thing: a shape and the word for each. Nothing where nothing does. */
export function ThingStates({ thing }: { readonly thing: LyingThing }) {
  const states = statesOf(thing);
  if (states.length === 0) return null;
  return (
    <span className={styles.states}>
      {states.map(({ state, words }) => (
        <span key={state} className={classNames(styles.state, styles[state])}>
          <span className={styles.mark} aria-hidden="true" />
          <span>{words}</span>
        </span>
      ))}
    </span>
  );
}
